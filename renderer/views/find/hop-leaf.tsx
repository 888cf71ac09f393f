/** The record pointed at: what it is, what its numbers rest on, when it was last seen. */
import { KINDS } from "../../../core/model/dictionary.ts";
import { basisWords, LABEL_WORDS } from "../../../core/model/wording.ts";
import type { ColourLayer, Hop, Place, RecordRef, TraceAnswer } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { recordAddress, TagLink } from "../../controls/tag-link.tsx";
import { shortWord } from "../../drawing/colours.ts";
import { Run } from "../../drawing/run.tsx";
import { StateWord } from "../../drawing/states.tsx";
import { dayWords } from "../../frame/ages.ts";
import { addressOf } from "../../frame/router.ts";
import type { Row } from "./rows.ts";
import { LENGTH_FROM_LONG, placeWords } from "./words.ts";

export function HopLeaf({ row, answer }: { readonly row: Row | null; readonly answer: TraceAnswer }) {
  return (
    <>
      {/* First, so that nobody has to scroll to what may hurt them. */}
      {answer.cautions.length > 0 ? (
        <div className="leaf-cautions">
          <Cautions cautions={answer.cautions} />
        </div>
      ) : null}
      {row?.kind === "hop"
        ? once(row.hops).map((hop) => (
            <OneHop key={`${hop.record.kind} ${hop.record.id} ${hop.how}`} hop={hop} number={row.number} />
          ))
        : null}
      {row?.kind === "end" ? <EndLeaf row={row} /> : null}
      {row?.kind === "fork" ? (
        <LeafHead tag={say`A fork`}>
          {row.doubt
            ? say`On record the line goes more than one way here. Glass can't: one of the joints is wrong.`
            : row.words}
        </LeafHead>
      ) : null}
      {row?.kind === "branch" ? <LeafHead tag={row.words}>{row.end?.words}</LeafHead> : null}
    </>
  );
}

/** Both strands of a duplex port are one record. */
const once = (hops: readonly Hop[]): readonly Hop[] => [
  ...new Map(hops.map((hop) => [`${hop.record.kind} ${hop.record.id}`, hop])).values(),
];

const LAYERS: Readonly<Record<ColourLayer["what"], string>> = {
  sub_cable: say`Sub-cable`,
  tube: say`Tube`,
  bundle: say`Bundle`,
  ribbon: say`Ribbon`,
  strand: say`Strand`,
  jacket: say`Jacket`,
};

const KIND_OF_HOP: Readonly<Record<Hop["kind"], string>> = {
  interface: say`port of equipment`,
  cord: say`cord`,
  assumed: say`assumed cord`,
  port: say`port`,
  strand: say`section of a strand`,
  splice: say`splice`,
  join: say`inside a module`,
};

function OneHop({ hop, number }: { readonly hop: Hop; readonly number: number }) {
  const length = useLength();
  const cable = hop.also.find(({ kind }) => kind === "cable");
  return (
    <div className="leaf-one">
      <LeafHead tag={hop.kind === "assumed" ? say`Assumed cord` : <TagLink record={hop.record} strong />}>
        {say`${KIND_OF_HOP[hop.kind]}, hop ${number}`}
      </LeafHead>
      {hop.kind === "strand" ? (
        <svg className="leaf-run" width="100%" height="22" aria-hidden="true">
          <Run course={{ x1: 0, y1: 11, x2: "100%", y2: 11 }} colours={hop.colours} width={20} />
        </svg>
      ) : null}
      {hop.kind === "assumed" ? (
        <p className="leaf-words">
          {say`Two ports of one circuit in one room, and no cord on record: one is taken to be there. It is never used to call a strand free.`}
        </p>
      ) : null}
      <Facts>
        {hop.colours.map((layer) => (
          <Fact key={layer.what} name={LAYERS[layer.what]}>
            {shortWord(layer)}
          </Fact>
        ))}
        <Fact name={say`How`}>{hop.how}</Fact>
        <Fact name={say`Place`}>
          <PlaceFact hop={hop} />
        </Fact>
        <Fact name={say`Passes`}>
          {hop.passes.length > 0 ? <Links refs={hop.passes.flatMap(({ place }) => place.space ?? [])} /> : null}
        </Fact>
        <Fact name={say`State`}>{hop.state ? <StateWord state={hop.state} /> : null}</Fact>
        <Fact name={say`Circuit`}>{hop.circuits.length > 0 ? <Links refs={hop.circuits} /> : null}</Fact>
        <Fact name={say`Label`}>{hop.label ? LABEL_WORDS[hop.label] : null}</Fact>
      </Facts>
      {hop.kind === "strand" || hop.length_m !== null ? (
        <LeafPart title={say`Where the length comes from`}>
          <Facts>
            <Fact name={say`Sheath`}>
              {hop.length_m === null
                ? say`not given`
                : `${length(hop.length_m)}, ${hop.length_from ? LENGTH_FROM_LONG[hop.length_from] : ""}`}
            </Fact>
            <Fact name={say`Glass`}>
              {hop.glass_m === null ? null : say`${length(hop.glass_m)}, with its excess over the sheath`}
            </Fact>
            <Fact name={say`Lacks`}>{hop.lacks}</Fact>
          </Facts>
        </LeafPart>
      ) : null}
      <LeafPart title={say`What it rests on`}>
        <Facts>
          <Fact name={say`Known by`}>{hop.basis.length > 0 ? basisWords(hop.basis) : say`not said`}</Fact>
          <Fact name={say`Last visit`}>{hop.last_visit ? dayWords(hop.last_visit) : say`none on record`}</Fact>
        </Facts>
        <ul className="leaf-rests">
          {hop.also.map((ref) => (
            <li key={`${ref.kind} ${ref.id}`}>
              <span className="soft">{KINDS[ref.kind].one}</span> <TagLink record={ref} words={withoutKind(ref)} />
            </li>
          ))}
        </ul>
      </LeafPart>
      <div className="leaf-acts">
        <a className="button" href={recordAddress(hop.record)}>
          {say`Open its page`}
        </a>
        {cable ? (
          <a className="button" href={addressOf("cable", { of: cable.tag })}>
            {say`Its cable`}
          </a>
        ) : null}
      </div>
    </div>
  );
}

/** "termination F-014:25 on …" without the kind, which stands before it. */
const withoutKind = ({ kind, tag }: RecordRef): string => tag.replace(new RegExp(`^${KINDS[kind].one} `), "");

function PlaceFact({ hop }: { readonly hop: Hop }) {
  const { place, to_place: to } = hop;
  if (!place?.space && !to?.space) return say`not known`;
  if (hop.kind !== "strand") return <OnePlace place={place} />;
  return (
    <>
      <OnePlace place={place} /> <br />
      {sayWith`to ${<OnePlace place={to} />}`}
    </>
  );
}

function OnePlace({ place }: { readonly place: Place | null }) {
  if (!place?.space) return say`a place that nobody knows`;
  return (
    <>
      <TagLink record={place.space} /> <span className="faint">{placeWords(place)}</span>
    </>
  );
}

const Links = ({ refs }: { readonly refs: readonly RecordRef[] }) =>
  refs.map((ref, index) => (
    <span key={ref.id}>
      {index > 0 ? ", " : ""}
      <TagLink record={ref} />
    </span>
  ));

function EndLeaf({ row }: { readonly row: Extract<Row, { kind: "end" }> }) {
  const [end] = row.ends;
  if (!end) return null;
  return (
    <>
      <LeafHead
        tag={
          end.record ? <TagLink record={end.record} strong /> : row.begins ? say`Where it begins` : say`Where it ends`
        }
      >
        {end.words}
      </LeafHead>
      <Facts>
        <Fact name={say`Place`}>{end.place?.space ? <TagLink record={end.place.space} /> : say`not known`}</Fact>
      </Facts>
    </>
  );
}

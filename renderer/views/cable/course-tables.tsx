/** Stops and legs in words. */
import type { CableAnswer } from "../../../core/trace/cable-answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { addressOf } from "../../frame/router.ts";
import { LENGTH_FROM, placeWords } from "../find/words.ts";
import { keyOf, VerdictMark } from "../fitness/verdicts.tsx";
import type { FitnessMatrix } from "../fitness/where.ts";
import { RULE_WORDS, VERDICT_WORDS } from "../fitness/words.ts";
import { coilWords, KIND_WORDS, marksWords } from "./course.tsx";

interface Props {
  readonly sheet: CableAnswer;
  /** Whether it belongs here, at each stop and leg; nothing while that is being asked. */
  readonly fitness: FitnessMatrix | null;
}

/** The worst that was found here, and the way to all of it. */
function FitsHere({ sheet, fitness, spot }: Props & { readonly spot: string }) {
  const worst = fitness?.worstAt(spot);
  if (!worst) return null;
  return (
    <a className="course-fits" href={addressOf("fitness", { of: sheet.cable.tag, at: keyOf(worst) })}>
      <VerdictMark rule={worst.rule} verdict={worst.verdict} />
      {worst.verdict === "fits" ? say`fits` : `${VERDICT_WORDS[worst.verdict]}: ${RULE_WORDS[worst.rule]}`}
    </a>
  );
}

export function Stops({ sheet, fitness }: Props) {
  const length = useLength();
  const metal = sheet.stops.some((stop) => stop.metal !== null);
  return (
    <table className="course-table">
      <thead>
        <tr>
          <th>{say`stop`}</th>
          <th>{say`where`}</th>
          <th>{say`the cable`}</th>
          <th>{say`marks`}</th>
          <th>{say`stored here`}</th>
          {metal ? <th>{say`metal`}</th> : null}
          {fitness ? <th>{say`fitness`}</th> : null}
        </tr>
      </thead>
      <tbody>
        {sheet.stops.map((stop, index) => (
          <tr key={stop.record.id}>
            <td>
              <TagLink record={stop.record} />
            </td>
            <td>
              {stop.place.space ? (
                <TagLink record={stop.place.space} />
              ) : (
                <span className="faint">{say`not known`}</span>
              )}{" "}
              <span className="faint small">{placeWords(stop.place)}</span>
            </td>
            <td>
              {KIND_WORDS[stop.kind]}
              {stop.cut > 0 ? say`, ${counted(stop.cut, "strand", "strands")} cut` : ""}
              {stop.closure
                ? sayWith` in ${<TagLink record={stop.closure} words={stop.closure.tag.split("/").at(-1) ?? stop.closure.tag} />}`
                : null}
              {stop.kind === "passing" || stop.kind === "opened" ? (
                <>
                  {" "}
                  <a
                    className="link small"
                    aria-label={say`Take strands out at ${stop.record.tag}`}
                    href={addressOf("breakout", { of: sheet.cable.tag, place: stop.record.tag })}
                  >
                    {say`take strands out`}
                  </a>
                </>
              ) : null}
            </td>
            <td className="nowrap">{marksWords(stop, sheet.mark_unit)}</td>
            <td className="nowrap">{coilWords(stop, length)}</td>
            {metal ? <td className={stop.metal ? undefined : "faint"}>{stop.metal ?? say`not said`}</td> : null}
            {fitness ? (
              <td>
                <FitsHere sheet={sheet} fitness={fitness} spot={`stop ${index}`} />
              </td>
            ) : null}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function Legs({ sheet, fitness }: Props) {
  const length = useLength();
  if (sheet.legs.length === 0) return null;
  return (
    <table className="course-table">
      <thead>
        <tr>
          <th>{say`way`}</th>
          <th>{say`leg`}</th>
          <th className="figure">{say`length`}</th>
          <th>{say`from`}</th>
          <th>{say`held`}</th>
          <th>{say`where`}</th>
          {fitness ? <th>{say`fitness`}</th> : null}
        </tr>
      </thead>
      <tbody>
        {sheet.legs.map((leg, index) => (
          <tr key={sheet.stops[index]?.record.id}>
            <td>
              {leg.conduit ? (
                <TagLink record={leg.conduit} />
              ) : leg.pathway ? (
                <TagLink record={leg.pathway} />
              ) : (
                <span className="faint">{say`not given`}</span>
              )}
            </td>
            <td>
              {sayWith`${<span className="tag">{leg.from?.tag ?? "?"}</span>} to ${<span className="tag">{leg.to?.tag ?? "?"}</span>}`}
            </td>
            <td className="figure">
              {leg.length_m === null ? <span className="faint">{say`not given`}</span> : length(leg.length_m)}
            </td>
            <td className="faint small">{leg.length_from ? LENGTH_FROM[leg.length_from] : (leg.lacks ?? "")}</td>
            <td className={leg.held ? undefined : "faint"}>{leg.held ?? say`not said`}</td>
            <td className={leg.environment ? undefined : "faint"}>{leg.environment ?? say`not said`}</td>
            {fitness ? (
              <td>
                <FitsHere sheet={sheet} fitness={fitness} spot={`leg ${index}`} />
              </td>
            ) : null}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

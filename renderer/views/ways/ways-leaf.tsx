/** The building pointed at: how many ways it should have, what cuts it off, and what the record leaves open. */
import type { WaysInBuilding } from "../../../core/impact/answer.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { Lacks } from "../../controls/lacks.tsx";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { addressOf } from "../../frame/router.ts";
import { Tags } from "../impact/circuits.tsx";
import { tooFew } from "./each-building.tsx";

export function WaysLeaf({ one, alone }: { readonly one: WaysInBuilding; readonly alone: boolean }) {
  const { building, name, ways, wanted, single_points: single, unknown } = one;
  return (
    <>
      <LeafHead tag={<TagLink record={building} strong />}>{name}</LeafHead>
      <Facts>
        <Fact name={say`Separate`}>
          {ways === 0
            ? say`no way on record`
            : ways === 1
              ? say`1 way`
              : say`${count(ways)}, sharing no place and no way`}
        </Fact>
        <Fact name={say`Wanted`}>
          {wanted === null ? say`nobody says` : count(wanted)}
          {tooFew(one) ? say`, so too few` : ""}
        </Fact>
        {alone ? null : (
          <Fact name={say`Cut off by`}>
            {single.length > 0 ? <Tags records={single} /> : say`nothing single on record`}
          </Fact>
        )}
      </Facts>
      {alone ? (
        <p className="soft ways-note">
          {say`Other ways may be chosen; more that share no place and no pathway are not to be had over what is on record.`}
        </p>
      ) : (
        <p className="ways-note">
          <a className="link" href={addressOf("ways", { of: building.tag })}>
            {say`See its ways`}
          </a>
        </p>
      )}
      {unknown.length > 0 ? (
        <LeafPart title={say`Not on record, so that it may be worse`}>
          <Lacks words={unknown} />
        </LeafPart>
      ) : null}
    </>
  );
}

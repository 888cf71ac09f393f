/** Temporary repairs of a cable that still lie over the ground, each with what is to follow it; nothing where there are none. */
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Tagged } from "../../controls/tagged.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";
import "./temporary-left.css";

/** @param of a cable, by its tag or id */
export function TemporaryLeft({ of }: { readonly of: string | number }) {
  const { value } = useAnswer("job.temporary", of === "" ? null : { cable: of });
  return (
    <>
      {value?.temporary.map(({ job, piece, followed_by, wants_lasting, words }) => (
        <p key={`${job.id} ${piece.id}`} className="temporary-left">
          <FindingMark shape="warning" />
          <span>
            <Tagged text={words} records={[job, piece, ...(followed_by ? [followed_by] : [])]} />
          </span>
          {wants_lasting ? (
            <a className="button" href={addressOf("acts", { do: "job.plan_lasting", follows: job.tag })}>
              {say`Make it permanent`}
            </a>
          ) : null}
        </p>
      ))}
    </>
  );
}

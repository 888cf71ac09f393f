/** Whether a break-out fits as things lie, with what is against it. */
import type { Fit } from "../../../core/breakout/answer.ts";
import { say } from "../../../core/words/say.ts";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";

const WORDS: Readonly<Record<Fit["verdict"], string>> = {
  yes: say`by the record`,
  open: say`may fit`,
  no: say`not as it lies`,
};

export function FitTold({ of: { verdict, against, open } }: { readonly of: Fit }) {
  const why = [...against, ...open];
  return (
    <>
      {verdict === "no" ? <FindingMark shape="warning" /> : verdict === "open" ? <FindingMark shape="gap" /> : null}{" "}
      {WORDS[verdict]}
      {why.length > 0 ? <span className="mend-under">{unbroken(why.join("; "))}</span> : null}
    </>
  );
}

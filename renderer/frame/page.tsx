/** The form of every view: the question, the answer in one sentence, what is drawn and listed, and the leaf beside it. */
import type { ReactNode } from "react";
import { say } from "../../core/words/say.ts";
import { settings, useSettings } from "../client/settings.ts";
import { Button } from "../controls/button.tsx";
import { Sentence } from "../controls/sentence.tsx";
import { wordsUnbroken } from "../controls/unbroken.tsx";
import { BackForward } from "./back-forward.tsx";
import { useCurrentView } from "./current-view.ts";
import { Region } from "./region.tsx";

export interface PageProps {
  /** In place of the view's own question, where its words depend on what is shown. */
  readonly sentence?: ReactNode;
  /** Buttons to the right of the question; at most one filled. */
  readonly acts?: ReactNode;
  /** The answer in one plain sentence. */
  readonly answer?: ReactNode;
  /** The record pointed at and what its numbers rest on. */
  readonly leaf?: ReactNode;
  readonly children?: ReactNode;
}

export function Page({ sentence, acts, answer, leaf, children }: PageProps) {
  const { view, values } = useCurrentView();
  const { leafFolded } = useSettings();
  const folded = leafFolded && leaf !== undefined && leaf !== null;
  return (
    <>
      <Region name="sentence" label={say`Question`} className="question">
        <BackForward />
        {sentence ?? <Sentence parts={view.question} values={values} />}
        <div className="acts">
          {acts}
          {folded ? <Button onClick={() => settings.set({ leafFolded: false })}>{say`Show the leaf`}</Button> : null}
        </div>
      </Region>
      <div className="answer" aria-live="polite">
        {wordsUnbroken(answer)}
      </div>
      <div className={leaf && !folded ? "page with-leaf" : "page"}>
        <div className="page-body">{children}</div>
        {leaf && !folded ? (
          <Region name="leaf" label={say`Leaf`} className="leaf" as="aside">
            {leaf}
            <button type="button" className="plain leaf-fold" onClick={() => settings.set({ leafFolded: true })}>
              {say`Fold the leaf away`}
            </button>
          </Region>
        ) : null}
      </div>
    </>
  );
}

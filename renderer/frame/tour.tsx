/** The tour's strip above the foot: what to press now. It takes no focus, and can be left and come back to. */
import { Fragment, useEffect, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import type { Changed } from "../client/client.ts";
import { useClient } from "../client/context.ts";
import { settings, useSettings } from "../client/settings.ts";
import { useAnswer } from "../client/use-answer.ts";
import { Button } from "../controls/button.tsx";
import { sayWith } from "../controls/say-with.tsx";
import { keyWords } from "./key-words.ts";
import { type Route, useRoute } from "./router.ts";
import { TOUR_STEPS, TOURED_PLANT } from "./tour-steps.ts";
import "./tour.css";

/** Whether this plant is the one the tour goes through. */
export const useToured = (): boolean => useAnswer("plant.read", {}, { kinds: ["plant"] }).value?.name === TOURED_PLANT;

export function Tour() {
  const { tour, touring } = useSettings();
  const toured = useToured();
  if (!touring || !toured) return null;
  return tour < TOUR_STEPS.length ? <Step key={tour} at={tour} /> : <Done />;
}

const leave = (): void => settings.set({ touring: false });

function Step({ at }: { readonly at: number }) {
  const client = useClient();
  const route = useRoute();
  const began = useRef<Route>(route);
  const [changes, setChanges] = useState<readonly Changed[]>([]);
  const step = TOUR_STEPS[at];
  useEffect(() => client.onChanged((changed) => setChanges((before) => [...before, changed])), [client]);
  const done = step?.isDone({ route, changes, began: began.current }) ?? false;
  useEffect(() => {
    if (done) settings.set({ tour: at + 1 });
  }, [done, at]);
  if (!step) return null;
  return (
    <Strip>
      <p aria-live="polite">
        <span className="soft">{say`Tour, ${at + 1} of ${TOUR_STEPS.length}`}</span> <b>{step.title}</b>{" "}
        <Keyed words={step.words} />
      </p>
      <div className="tour-acts">
        {step.address ? (
          <a className="button" href={step.address}>
            {say`Show me`}
          </a>
        ) : null}
        <Button onClick={() => settings.set({ tour: at + 1 })}>{say`Next`}</Button>
        <Button onClick={leave}>{say`Leave the tour`}</Button>
      </div>
    </Strip>
  );
}

function Done() {
  return (
    <Strip>
      <p aria-live="polite">
        {sayWith`${<b>{say`That was the tour.`}</b>} Every question is in the list: press ${<kbd>{keyWords("Alt 1")}</kbd>} twice. Help on any field or page: ${<kbd>F1</kbd>}.`}
      </p>
      <div className="tour-acts">
        <Button onClick={() => settings.set({ tour: 0, touring: false })}>{say`Close`}</Button>
      </div>
    </Strip>
  );
}

const Strip = ({ children }: { readonly children: React.ReactNode }) => (
  <section className="tour" aria-label={say`Tour`} data-region="tour" tabIndex={-1}>
    {children}
  </section>
);

/** Words between asterisks are keys, or what is typed. */
function Keyed({ words }: { readonly words: string }) {
  return words
    .split("*")
    .map((part, index) => ({ part, at: `${index + 1}`, isKey: index % 2 === 1 }))
    .map(({ part, at, isKey }) => <Fragment key={at}>{isKey ? <kbd>{part}</kbd> : part}</Fragment>);
}

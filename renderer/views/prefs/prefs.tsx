/** What whoever works at this machine prefers: kept here for every plant, and beside it the way to what the plant itself says. */
import { type ReactNode, useId } from "react";
import { PREFERENCES, type PreferenceName } from "../../../core/model/preferences.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import type { ThemeChoice } from "../../../core/operations/wire.ts";
import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { askNameAgain } from "../../client/person.ts";
import { applyTheme, BEGINNINGS, PAPERS, settings, useSettings } from "../../client/settings.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { windowWords } from "../../client/words.ts";
import { Button } from "../../controls/button.tsx";
import { UNIT_WORDS } from "../../controls/figures.ts";
import { LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { usePrinting } from "../../controls/print-button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { preferenceMark } from "../../frame/help-about.ts";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import { PrinterPanel } from "../labels/printer.tsx";
import "../../forms/forms.css";
import "../labels/labels.css";
import "./prefs.css";

const THEMES: Readonly<Record<ThemeChoice, string>> = {
  system: say`as the system`,
  light: say`light`,
  dark: say`dark`,
};

export function Prefs() {
  const client = useClient();
  const { person, unit, theme, paper, first } = useSettings();
  return (
    <Page answer={say`Each choice holds at once, for every plant that is opened on this machine.`} leaf={<PrefsLeaf />}>
      <Region name="ledger" label={say`Preferences`} className="prefs">
        <Part of="person">
          <p>
            {person ? <b>{person}</b> : say`Not set yet`}
            <span className="soft">{say`, written beside each change in the history`}</span>
          </p>
          <Button onClick={() => void askNameAgain()}>{person ? say`Somebody else` : say`Say who`}</Button>
        </Part>
        <Choice
          of="unit"
          value={unit}
          among={UNIT_WORDS}
          choose={(chosen) => settings.set({ unit: chosen })}
          note={say`Sheath marks stay as they are printed on the sheath.`}
        />
        <Choice
          of="theme"
          value={theme}
          among={THEMES}
          choose={(chosen) => {
            settings.set({ theme: chosen });
            applyTheme(chosen, client.capabilities);
          }}
        />
        <Choice
          of="first"
          value={first}
          among={BEGINNINGS}
          choose={(chosen) => settings.set({ first: chosen })}
          note={say`What is shown when the program starts.`}
        />
        <Choice of="paper" value={paper} among={PAPERS} choose={(chosen) => settings.set({ paper: chosen })} />
        <LanguageChoice />
        <LabelPart />
      </Region>
    </Page>
  );
}

/** Only where there is something to choose. What is spoken now was settled when the program started. */
function LanguageChoice() {
  const { language } = useSettings();
  const { offered, language: spoken, missing, wrong } = windowWords();
  if (offered.length === 0) return null;
  const among = { "": "English", ...Object.fromEntries(offered.map(({ code, name }) => [code, name])) };
  const lacks = [
    ...(missing > 0
      ? [
          plural(
            missing,
            "{0} message is not translated and stands in English",
            "{0} messages are not translated and stand in English",
          ),
        ]
      : []),
    ...(wrong > 0
      ? [
          plural(
            wrong,
            "{0} translation doesn't fit its message and is left out",
            "{0} translations don't fit their message and are left out",
          ),
        ]
      : []),
  ];
  return (
    <Choice
      of="language"
      value={language in among ? language : ""}
      among={among}
      choose={(chosen) => settings.set({ language: chosen })}
      note={
        language === (spoken?.code ?? "")
          ? lacks.join("; ") || say`Titles in the history stay in the language in which they were written.`
          : say`Spoken from the next start of the program.`
      }
    />
  );
}

interface PartProps {
  /** What it is called, and what F1 says of its controls. */
  readonly of: PreferenceName;
  readonly children: ReactNode;
}

function Part({ of, children }: PartProps) {
  const id = useId();
  return (
    <section className="prefs-part" aria-labelledby={id} {...preferenceMark(of)}>
      <h2 id={id}>{PREFERENCES[of].label}</h2>
      <div className="prefs-body">{children}</div>
    </section>
  );
}

function Choice<V extends string>({
  of,
  value,
  among,
  choose,
  note,
}: {
  readonly of: PreferenceName;
  readonly value: V;
  readonly among: Readonly<Record<V, string>>;
  readonly choose: (value: V) => void;
  readonly note?: string;
}) {
  const name = useId();
  return (
    <fieldset className="prefs-part" {...preferenceMark(of)}>
      <legend>{PREFERENCES[of].label}</legend>
      <div className="prefs-body">
        <div className="prefs-radios">
          {(Object.keys(among) as V[]).map((one) => (
            <label key={one}>
              <input type="radio" name={name} checked={one === value} onChange={() => choose(one)} /> {among[one]}
            </label>
          ))}
        </div>
        {note ? <p className="soft">{note}</p> : null}
      </div>
    </fieldset>
  );
}

type Sheet = AnswerOf<"label.sheets">["sheets"][number];

/** What lies in the label printer, and what that printer does to a page. */
function LabelPart() {
  const { labelSheet, labelPrinter } = useSettings();
  const sheets = useAnswer("label.sheets", {}, { kinds: ["label_sheet"] }).value?.sheets ?? [];
  const { print, running } = usePrinting();
  const chosen = sheets.find(({ name }) => name === labelSheet);
  const test = () => void print("label.outline", { ...(chosen ? { sheet: chosen.name } : {}), printer: labelPrinter });
  return (
    <Part of="labelSheet">
      <Select
        label={say`Sheet or tape, unless the page of labels says another`}
        value={labelSheet}
        among={sheets.map(({ name }) => name)}
        choose={(tag) => settings.set({ labelSheet: tag })}
      />
      {chosen ? <p className="soft">{sheetWords(chosen)}</p> : null}
      <PrinterPanel onTest={test} busy={running !== null} />
    </Part>
  );
}

const sheetWords = ({ per_page, faults }: Sheet): string =>
  faults.length > 0 ? faults.map(({ reason }) => reason).join("; ") : say`${per_page} on a page`;

function Select({
  label,
  value,
  among,
  choose,
}: {
  readonly label: string;
  readonly value: string;
  readonly among: readonly string[];
  readonly choose: (value: string) => void;
}) {
  // One of another plant is kept and shown, and counts again there.
  const all = value === "" || among.includes(value) ? among : [value, ...among];
  return (
    <label className="form-field">
      <span>{label}</span>
      <select className="form-input" value={value} onChange={({ target }) => choose(target.value)}>
        <option value="">{say`the plant's usual`}</option>
        {all.map((one) => (
          <option key={one} value={one}>
            {one}
            {among.includes(one) ? "" : say` (not in this plant)`}
          </option>
        ))}
      </select>
    </label>
  );
}

function PrefsLeaf() {
  return (
    <>
      <LeafHead tag={say`This machine`}>
        {say`Kept in one small file in your own folder on this machine, never in the plant file: your name, these choices, how tables stand, named views, notes not yet taken over, what was asked lately.`}
      </LeafHead>
      <LeafPart title={say`A double click on a plant file`}>
        <p>
          {sayWith`opens it here once the desktop knows of it: type ${<code className="tag">{say`npx strandbook associate`}</code>} in the program's folder. With ${<code className="tag">{say`--undo`}</code>} it forgets it again.`}
        </p>
      </LeafPart>
      <LeafPart title={say`The plant itself says`}>
        <ul className="prefs-links">
          <li>
            <a className="link" href={addressOf("limits")}>
              {say`which limits and policies are in use`}
            </a>
          </li>
          <li>
            <a className="link" href={addressOf("enter", { kind: "limit_value" })}>
              {say`its own limits and policies, in a table`}
            </a>
          </li>
          <li>
            <a className="link" href={addressOf("enter", { kind: "label_template" })}>
              {say`the wording of its labels`}
            </a>
          </li>
          <li>
            <a className="link" href={addressOf("enter", { kind: "label_sheet" })}>
              {say`its label sheets`}
            </a>
          </li>
        </ul>
        <p className="soft">{say`Those are records: they go with the file, and each change of them stands in the history.`}</p>
      </LeafPart>
    </>
  );
}

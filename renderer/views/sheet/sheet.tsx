/** "If an as-built sheet were taken over, what would change?": read, mapped, tried row by row; exactly that is written. */
import { useEffect, useRef, useState } from "react";
import type { Failure } from "../../../core/result.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { listed } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { Refused } from "../../controls/refused.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { notify } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { useStatus } from "../../frame/use-status.ts";
import { FatesBar } from "../import/fates-bar.tsx";
import { type Left, lay, layAway, layLeft, layOpen, layWritten, sourceOf, useLeft, useLying } from "./lying.ts";
import {
  FOUND_OUT,
  guessedMapping,
  inputOf,
  lacking,
  type Reading,
  type ReadSheet,
  readingSaid,
  type Source,
} from "./mapping.ts";
import { MappingPanel } from "./mapping-panel.tsx";
import { MissingList } from "./missing-list.tsx";
import { fittingProfile, mappedBy, type Profile, profileOf, useProfiles } from "./profiles.ts";
import { ReadingPanel } from "./reading-panel.tsx";
import { SheetRows } from "./sheet-rows.tsx";
import { SourceChoice, usePasted } from "./source-choice.tsx";
import { useTried } from "./use-tried.ts";
import "./sheet.css";

/** What of a sheet is said before it is read. */
interface Asked {
  readonly source: Source;
  readonly reading: Reading;
  readonly sheet?: string;
  readonly shape?: string;
  /** Chosen; without it the one that fits the heading. */
  readonly profile?: Profile | null;
}

export function Sheet() {
  const client = useClient();
  const { act, running } = useAct();
  const readOnly = useStatus()?.read_only ?? null;
  const { open, leaveOut, create } = useLying();
  const pasted = usePasted();
  const [refused, setRefused] = useState<Failure | null>(null);
  const { profiles, keep } = useProfiles();
  const input = open ? inputOf(open.source, open.read, open.reading, open.mapping, leaveOut, create) : null;
  const tried = useTried("sheet.rehearse", readOnly === null ? input : null, "change");

  /** What is chosen last is what lies there, whatever was asked before it is answered. */
  const turn = useRef(0);
  const readSheet = async ({ source, reading, sheet, shape, profile }: Asked) => {
    turn.current += 1;
    const mine = turn.current;
    setRefused(null);
    const said = profile?.mapping.shape || shape;
    const reply = await client.call("sheet.read", {
      ...source,
      ...readingSaid(reading),
      ...(sheet ? { sheet } : {}),
      ...(said ? { shape: said as never } : {}),
    });
    if (mine !== turn.current) return;
    if (!reply.ok) return setRefused(reply.error);
    const read = reply.value;
    const known = profile === undefined && !shape ? fittingProfile(profiles, read) : (profile ?? null);
    const mapping = known ? mappedBy(known, read) : guessedMapping(read);
    layOpen(client, { source, read, reading, mapping, by: known?.name ?? "" });
  };
  /** What was said of it before the window was left holds for it still. */
  const readLeft = async (was: Left, source: Source) => {
    const { reading, mapping } = was;
    turn.current += 1;
    const mine = turn.current;
    const reply = await client.call("sheet.read", {
      ...source,
      ...readingSaid(reading),
      ...(mapping.sheet ? { sheet: mapping.sheet } : {}),
      ...(mapping.shape ? { shape: mapping.shape as never } : {}),
    });
    if (mine !== turn.current) return;
    if (reply.ok) layLeft(client, was, source, reply.value);
    else setRefused(reply.error);
  };
  const left = useLeft();
  const [chooseAgain, setChooseAgain] = useState(false);
  const taken = useRef<Left | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: taken up once
  useEffect(() => {
    if (!left || taken.current === left) return;
    taken.current = left;
    const before = turn.current;
    void sourceOf(client, left).then((source) => {
      if (before !== turn.current) return;
      if (source) return readLeft(left, source);
      setChooseAgain(true);
    });
  }, [client, left]);
  const choose = (source: Source) =>
    void (left && chooseAgain && source.name === left.name
      ? readLeft(left, source)
      : readSheet({ source, reading: FOUND_OUT }));
  const begin = () => {
    turn.current += 1;
  };
  /** Decimals and days stay as they were said while the sheet is read anew. */
  const readAnew = (change: Partial<Asked>) => {
    if (!open) return;
    const { source, reading, mapping } = open;
    const profile = profiles.find(({ name }) => name === open.by) ?? null;
    void readSheet({ source, reading, sheet: mapping.sheet, shape: mapping.shape, profile, ...change });
  };
  const readBy = (name: string) => {
    const profile = profiles.find((one) => one.name === name) ?? null;
    readAnew({ profile, shape: "", reading: profile ? { ...FOUND_OUT, ...profile.reading } : FOUND_OUT });
  };
  const keepAs = async (name: string) => {
    if (!open || !(await keep(profileOf(name, open.read, open.reading, open.mapping)))) return;
    lay({ open: { ...open, by: name } });
    notify(say`Sheets from ${name} are read so from now on.`);
  };
  const plan = tried.value;
  const writable = plan ? plan.totals.new + plan.totals.changed : 0;
  const write = async (only: boolean) => {
    if (!plan || !input || !open) return;
    setRefused(null);
    const reply = await act("sheet.apply", {
      ...input,
      digest: plan.digest,
      ...(only ? { valid_rows_only: true } : {}),
    });
    if (!reply) return;
    if (!reply.ok) return setRefused(reply.error);
    if (open.by) void keep(profileOf(open.by, open.read, open.reading, open.mapping));
    if (!only) {
      layWritten(client);
      // What is in the box may be another sheet's by now.
      if (pasted.value === open.source.text) pasted.end("");
    }
    notify(say`${counted(writable, "row", "rows")} taken over. One undo takes all of it back.`);
  };

  if (!open)
    return (
      <Page
        answer={say`Cable schedules, splice matrices, landing and port-to-port lists, strand usage, labels, measurements. Nothing is written before you have seen what each row would do.`}
      >
        <Region name="ledger" label={say`Source`} className="sheet-empty">
          {refused ? <Refused failure={refused} /> : null}
          {left && chooseAgain ? (
            <p>{say`${left.name} was being taken over. Choose it again: how its columns are read is kept.`}</p>
          ) : null}
          <SourceChoice {...{ pasted, begin, choose }} />
        </Region>
      </Page>
    );
  const missing = lacking(open.read, open.mapping);
  return (
    <Page
      acts={
        <>
          <Button onClick={() => layAway(client)}>{say`Another sheet`}</Button>
          {plan && plan.totals.refused > 0 && writable > 0 ? (
            <Button disabled={readOnly !== null || tried.busy} onClick={() => void write(true)}>
              {say`Take over the ${count(writable)} that can be read`}
            </Button>
          ) : null}
          <Button
            filled
            disabled={readOnly !== null || tried.busy || !plan || writable === 0 || plan.totals.refused > 0}
            busy={running > 0 ? say`Writing` : null}
            onClick={() => void write(false)}
          >
            {writable === 0 ? say`Nothing to take over` : say`Take over ${counted(writable, "row", "rows")}`}
          </Button>
        </>
      }
      answer={
        readOnly ??
        (plan
          ? sayWith`${open.read.name}: ${<b>{plan.sentence}</b>} Nothing is written yet.`
          : open.mapping.shape === ""
            ? say`Which kind of sheet is it?`
            : missing.length > 0
              ? plural(missing.length, "Which column is {1}?", "Which columns are {1}?", listed(missing))
              : say`Trying the rows`)
      }
    >
      <div className="sheet">
        <MappingPanel
          read={open.read}
          mapping={open.mapping}
          change={(mapping) => lay({ open: { ...open, mapping } })}
          readAnew={(sheet, shape) =>
            readAnew({
              sheet,
              shape,
              profile: null,
              reading: { ...open.reading, heading_row: null },
            })
          }
        >
          <ReadingPanel
            {...{ read: open.read, reading: open.reading, mapping: open.mapping, profiles, by: open.by, readBy }}
            readAnew={(reading) => readAnew({ reading })}
            change={(mapping) => lay({ open: { ...open, mapping } })}
            keep={readOnly === null ? (name) => void keepAs(name) : null}
          />
        </MappingPanel>
        <Region name="ledger" label={say`What would become of the rows`} className="sheet-plan" reachable>
          {refused ? <Refused failure={refused} again={tried.again} /> : null}
          {tried.failure ? <Refused failure={tried.failure} again={tried.again} /> : null}
          {plan ? (
            <>
              <FatesBar totals={plan.totals} />
              <MissingList plan={plan} create={create} choose={(create) => lay({ create })} />
              <SheetRows plan={plan} leaveOut={leaveOut} choose={(leaveOut) => lay({ leaveOut })} />
            </>
          ) : (
            <FirstRows read={open.read} />
          )}
        </Region>
      </div>
    </Page>
  );
}

function FirstRows({ read }: { readonly read: ReadSheet }) {
  return (
    <table className="sheet-first">
      <thead>
        <tr>
          <th scope="col" className="figure">
            {say`row`}
          </th>
          {read.heading.columns.map(({ letters, heading }) => (
            <th key={letters} scope="col">
              {heading || letters}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {read.first.map(({ row, cells }) => (
          <tr key={row}>
            <td className="figure">{count(row)}</td>
            {read.heading.columns.map(({ letters }, i) => (
              <td key={letters}>{cells[i] ?? ""}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

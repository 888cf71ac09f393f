/** Each statement of an import failed in turn, and the import stopped wherever it reports: nothing is changed. */
import { expect, it } from "vitest";
import { newPlant, TESTER } from "../support/plant.ts";
import { everythingOf, folderOf, lines } from "./support.ts";

class Fault extends Error {}

const PHOTO = "9834876dcfb05cb167a5c24953eba58c4ac89b1adf57f28f2f9d09af107ee8f0"; // SHA-256 of "aaa" (sha256sum)
const FILES = {
  "building.csv": lines("tag,name", "OLD,New name", "A,Barn", "B,Boat house"),
  "space.csv": lines("tag,building,kind", ...Array.from({ length: 60 }, (_, n) => `${n},A,telecom_room`)),
  "cable.csv": lines("tag,owner", "F-1,CITY"),
  "party.csv": lines("tag", "CITY"),
  "attachment.csv": lines("subject_kind,subject,name,content_hash", `cable,F-1,a.jpg,${PHOTO}`),
  [`content/${PHOTO}`]: "aaa",
};

/** A plant in which a statement of a write can be made to fail, its beginning and its commit included. */
async function faulty() {
  let failAt = -1;
  let count = 0;
  let writing = false;
  const plant = await newPlant({
    beforeStatement: (sql) => {
      writing ||= sql === "BEGIN IMMEDIATE";
      if (!writing) return;
      writing = sql !== "COMMIT" && sql !== "ROLLBACK";
      if (count++ === failAt) throw new Fault(`failed on purpose: ${sql}`);
    },
  });
  await plant.run("record.add", { kind: "building", values: { tag: "OLD" } });
  /** What comes of an import that fails at a statement, and how many statements it came to. */
  const importing = async (folder: string, statement: number) => {
    count = 0;
    failAt = statement;
    const outcome = await plant.call("exchange.import", { folder }).catch((error: unknown) => error);
    failAt = -1;
    return { outcome, statements: count };
  };
  return { plant, importing };
}

it("failed at each statement an import changes nothing, and the next one goes through", {
  timeout: 240_000,
}, async () => {
  const folder = folderOf(FILES);
  const whole = await (await faulty()).importing(folder, -1);
  expect(whole.outcome).toMatchObject({ ok: true });
  expect(whole.statements).toBeGreaterThan(60);

  const { plant, importing } = await faulty();
  const before = await plant.store.read(everythingOf);
  for (let statement = 0; statement < whole.statements; statement += 1) {
    const { outcome } = await importing(folder, statement);
    expect(outcome, `statement ${statement}`).toBeInstanceOf(Fault);
    expect(await plant.store.read(everythingOf), String(outcome)).toBe(before);
  }
  expect((await importing(folder, whole.statements)).outcome).toMatchObject({ ok: true });
  expect(await plant.store.read(everythingOf)).not.toBe(before);
});

it("stopped at each of its reports an import changes nothing", async () => {
  const folder = folderOf(FILES);
  const plant = await newPlant();
  await plant.run("record.add", { kind: "building", values: { tag: "OLD" } });
  const before = await plant.store.read(everythingOf);
  const whats: string[] = [];
  for (let report = 1; ; report += 1) {
    const signal = { aborted: false };
    let reports = 0;
    const reply = await plant.session.dispatch(
      { name: "exchange.import", input: { folder }, occasion: TESTER },
      {
        signal,
        onProgress: ({ what }) => {
          reports += 1;
          if (reports === report) whats.push(what);
          signal.aborted = reports === report;
        },
      },
    );
    if (reply.ok) break;
    expect(reply.error.code).toBe("stopped");
    expect(await plant.store.read(everythingOf)).toBe(before);
  }
  expect(whats).toEqual(
    expect.arrayContaining(["reading what is on record", "reading cable.csv", "writing space.csv"]),
  );
});

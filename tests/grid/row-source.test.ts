/** Windows of a long table: only what is seen is fetched, and old answers don't overtake new questions. */
import { expect, it } from "vitest";
import { type FetchWindow, type GridRow, RowSource } from "../../renderer/grid/row-source.ts";

const row = (id: number): GridRow => ({ id, rev: 1, address: `F-${id}`, values: {}, shown: {} });
const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

function long(total: number) {
  const asked: [number, number][] = [];
  const fetch: FetchWindow = async (from, count) => {
    asked.push([from, count]);
    const rows = Array.from({ length: Math.max(0, Math.min(count, total - from)) }, (_, i) => row(from + i));
    return { total, rows };
  };
  return { asked, fetch };
}

it("fetches a few windows of a million rows, and each once", async () => {
  const { asked, fetch } = long(1_000_000);
  const source = new RowSource(fetch);
  source.want(0, 40);
  source.want(0, 41);
  await settled();
  source.want(500_000, 500_040);
  await settled();
  expect(source.total).toBe(1_000_000);
  expect(source.row(500_010)?.id).toBe(500_010);
  expect(source.row(250_000)).toBeUndefined();
  expect(asked.reduce((sum, [, count]) => sum + count, 0)).toBeLessThan(500);
  expect(new Set(asked.map(([from]) => from)).size).toBe(asked.length);
});

it("holds a bounded number of rows however far one scrolls", async () => {
  const { fetch } = long(1_000_000);
  const source = new RowSource(fetch);
  for (let at = 0; at < 1_000_000; at += 5_000) {
    source.want(at, at + 40);
    await settled();
  }
  expect([...source.held()].length).toBeLessThan(10_000);
});

it("keeps old rows on screen while the plant's change is read", async () => {
  let name = "old";
  const source = new RowSource(async () => {
    const at = name;
    await settled();
    return { total: 1, rows: [{ ...row(1), values: { tag: at } }] };
  });
  source.want(0, 1);
  await settled();
  await settled();
  name = "new";
  void source.refresh();
  expect(source.row(0)?.values.tag).toBe("old");
  await settled();
  await settled();
  expect(source.row(0)?.values.tag).toBe("new");
});

it("drops the answer to a question that was given up", async () => {
  let answerOld: (window: { total: number; rows: GridRow[] }) => void = () => {};
  const source = new RowSource(() => new Promise((resolve) => (answerOld = resolve)));
  source.want(0, 1);
  source.ask(async () => ({ total: 1, rows: [row(2)] }));
  await settled();
  answerOld({ total: 1, rows: [row(1)] });
  await settled();
  expect(source.row(0)?.id).toBe(2);
});

it("says why a window can't be read, and nothing after the next that can", async () => {
  let fails = true;
  const source = new RowSource(async () => {
    if (fails) throw new Error("gone");
    return { total: 1, rows: [row(1)] };
  });
  source.want(0, 1);
  await settled();
  expect(source.error).toBeInstanceOf(Error);
  fails = false;
  void source.refresh();
  await settled();
  expect(source.error).toBeNull();
  expect(source.row(0)?.id).toBe(1);
});

it("says when what is seen was read again", async () => {
  let name = "old";
  const source = new RowSource(async () => ({ total: 1, rows: [{ ...row(1), values: { tag: name } }] }));
  source.want(0, 1);
  await settled();
  name = "new";
  await source.refresh();
  expect(source.row(0)?.values.tag).toBe("new");
});

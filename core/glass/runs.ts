/**
 * Many ids as runs of consecutive ones. Records made together have ids in a row, so a set of thousands is mostly some
 * dozens of runs, and each is one range of an index instead of a look-up an id. `RUNS` lists them in SQL as `r`.
 */

/** One parameter, from `runsOf`. In the bounds of a range: `x between ${FROM} and ${TO}`. */
export const RUNS = "json_each(?) r";
export const FROM = "json_extract(r.value, '$[0]')";
export const TO = "json_extract(r.value, '$[1]')";

export function runsOf(ids: Iterable<number>): string {
  const sorted = Int32Array.from(ids).sort();
  const runs: [number, number][] = [];
  for (const id of sorted) {
    const last = runs.at(-1);
    if (last && id <= last[1] + 1) last[1] = id;
    else runs.push([id, id]);
  }
  return JSON.stringify(runs);
}

import fc from "fast-check";
import { it } from "vitest";
import { openCourse } from "../../core/repair/coils/open.ts";
import { anyCourse, course, POLICY } from "./courses.ts";

it("perf", () => {
  for (const n of [5, 8, 12, 20, 40, 80]) {
    const list = fc.sample(
      anyCourse(n, true).filter((c) => c.stops.length === n),
      { numRuns: 20, seed: 3 },
    );
    let worst = 0,
      ex = 0;
    const t0 = performance.now();
    let maxc = 0;
    for (const c of list) {
      const t = performance.now();
      const r = openCourse(
        {
          ...c,
          stops: c.stops.map((s, i) => ({
            ...s,
            kind: i === 0 || i === n - 1 ? ("end" as const) : ("passing" as const),
            held: false,
          })),
          legs: c.legs.map((l, i) => ({
            ...l,
            slides: i % 15 === 14 ? ("no" as const) : ("yes" as const),
            length_m: l.length_m * (n > 20 ? 1 : 4),
          })),
        },
        { left_m: 2, right_m: 2 },
        POLICY,
      );
      const d = performance.now() - t;
      if (d > worst) worst = d;
      if (r.proven.exact) ex++;
      maxc = Math.max(maxc, r.proven.coils.length);
    }
    console.log(
      n,
      "mean",
      (performance.now() - t0) / list.length,
      "worst",
      worst,
      "exact",
      ex,
      "of",
      list.length,
      "coils",
      maxc,
    );
  }
  // existing coils realistic
  for (const n of [6, 12, 20]) {
    const c = course(
      ...Array.from({ length: n }, (_, i) => ({
        coil_m: i % 3 === 0 ? 8 : 0,
        keep_m: 6,
        work_m: 17.4,
        leg_m: 70 + ((i * 7) % 50),
      })),
    );
    const t = performance.now();
    const r = openCourse(c, { left_m: 2, right_m: 2 }, POLICY);
    console.log(n, performance.now() - t, r.proven.exact, JSON.stringify(r.proven.coils), r.stretches.length);
  }
}, 600000);

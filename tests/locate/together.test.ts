import { describe, expect, it } from "vitest";
import type { Problem } from "../../core/result.ts";
import { located, locatedApart, type Reading, type Reel, type RouteOptions, route, shownAt } from "./route.ts";

const reels: Reel[] = [
  {
    tag: "F-1",
    stops: [
      { space: "A", from: 1000, out: 1005 },
      { space: "H1", in: 1405, to: 1415 },
    ],
  },
  {
    tag: "F-2",
    stops: [
      { space: "H1", from: 9000, out: 8990 },
      { space: "H2", in: 8490, out: 8470 },
      { space: "Z", in: 8170, to: 8160 },
    ],
  },
];
const plantOf = (options: RouteOptions = {}) => route(reels, { strands: 2, ...options });
const A = "A/PA:01";
const Z = "Z/PZ:01";
/** Shown from A at some metres of F-2's sheath from its beginning: F-1 has 415 m, and three stubs lie before. */
const pastJoint = (metres: number): number => shownAt(415 + metres, 3);
const whole = shownAt(415 + 840, 4);
const refusal = async (plant: Awaited<ReturnType<typeof route>>, ...readings: Reading[]) => {
  const reply = await plant.call("locate.of", { readings });
  if (reply.ok) throw new Error("it was not refused");
  const [problem] = reply.error.problems as readonly Problem[];
  return [reply.error.code, problem?.record, problem?.field, problem?.reason];
};

describe("a known event", () => {
  it("takes the errors before it out: what is left is what lies between it and the break", async () => {
    const plant = await plantOf();
    const plain = await located(plant, { from: A, distance_m: pastJoint(100) });
    const known = await located(plant, {
      from: A,
      distance_m: pastJoint(100),
      known: [{ at: "H1/CL/T", distance_m: shownAt(415, 2) }],
    });
    expect(known.where.mark?.value).toBeCloseTo(8900, 1);
    expect(known.band.likely_m).toBeLessThan(0.5 * plain.band.likely_m);
    const termsOf = (answer: typeof plain, kind: string) =>
      answer.band.terms.filter((term) => term.kind === kind && term.words.includes("F-1")).map(({ metres }) => metres);
    expect(termsOf(plain, "mark_scale")[0]).toBeCloseTo(4.15, 1);
    expect(termsOf(known, "mark_scale")[0]).toBeLessThan(1);
  });
  it("beyond the break, such as the far end on an earlier reading, pulls the place between the two", async () => {
    const plant = await plantOf();
    // Everything shows 1 % long: by the far end that is scale, and the place is where it would be without.
    const answer = await located(plant, {
      from: A,
      distance_m: pastJoint(400) * 1.01,
      known: [{ at: "end", distance_m: whole * 1.01 }],
    });
    expect(Math.abs((answer.where.mark?.value ?? 0) - 8600)).toBeLessThan(1.5);
    expect(answer.doubts).toEqual([]);
  });
  it("stands for the index where nobody wrote down what the instrument was set to", async () => {
    const plant = await plantOf();
    const set = (metres: number) => (metres * 1.4682) / 1.4722;
    const run = (known: readonly object[]) =>
      plant.run<Awaited<ReturnType<typeof located>>>("locate.of", {
        readings: [{ from: A, distance_m: set(pastJoint(700)), known }],
      });
    const blind = await run([]);
    const told = await run([{ at: Z, distance_m: set(whole) }]);
    const off = (answer: typeof blind) => Math.abs((answer.where.mark?.value ?? 0) - 8300);
    expect(off(blind)).toBeGreaterThan(2.5);
    expect(off(told)).toBeLessThan(0.5);
    expect(told.band.likely_m).toBeLessThan(0.4 * blind.band.likely_m);
  });
  it("far from where the record has it is a doubt that names it, and isn't used", async () => {
    const { doubts, where } = await located(await plantOf(), {
      from: A,
      distance_m: pastJoint(100),
      known: [{ at: "H1/CL", distance_m: shownAt(415, 2) + 60 }],
    });
    expect(doubts).toEqual([
      expect.stringMatching(/^The known event splice F-1:1 to F-2:1 in H1\/CL\/T at .* farther than on record/),
    ]);
    expect(where.mark?.value).toBeCloseTo(8900, 1);
  });
  it("that names no joint on the line, or several, is refused with what there is", async () => {
    const plant = await plantOf();
    const at = (name: string) => refusal(plant, { from: A, distance_m: 100, known: [{ at: name, distance_m: 50 }] });
    expect(await at("H2")).toEqual([
      "not_found",
      "H2",
      "known",
      expect.stringContaining("there are A/PA:01, splice F-1:1"),
    ]);
    const modular = await plantOf({
      also: (made, { ports, spaces }) => {
        const device = made.device("SW", spaces.get("Z") as number, 1, 1);
        made.cord(ports.z[0], device.ports[0], { length_m: 5 });
      },
    });
    const many = { from: A, distance_m: 100, known: [{ at: "z", distance_m: 50 }] };
    expect(await refusal(modular, many)).toEqual([
      "ambiguous",
      "z",
      "known",
      expect.stringContaining("equipment Z/SW:01"),
    ]);
  });
});

describe("readings from both ends", () => {
  it("are one place, nearer to the truth than either", async () => {
    const plant = await plantOf();
    // Marks 1 % short: seen from A too far, from Z too near.
    const one = { from: A, distance_m: pastJoint(400) * 1.004 };
    const other = { from: Z, distance_m: (whole - pastJoint(400)) * 1.004 };
    const [first, second] = [await located(plant, one), await located(plant, other)];
    const both = await located(plant, one, other);
    const off = ({ where }: typeof both) => Math.abs((where.mark?.value ?? 0) - 8600);
    expect(off(both)).toBeLessThan(Math.min(off(first), off(second)));
    expect(both.band.likely_m).toBeLessThan(Math.min(first.band.likely_m, second.band.likely_m));
    expect(both.readings.map(({ weight }) => weight).reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 2);
    expect(both.sentence).toMatch(/^By 2 readings together: /);
    expect(both.notes).toEqual([
      "The readings are taken to be of one break.",
      "From each end only the first break is seen.",
    ]);
  });
  it("far apart are two breaks with what lies between cut off, and are never told as one", async () => {
    const answer = await locatedApart(
      await plantOf(),
      { from: A, distance_m: pastJoint(100) },
      { from: Z, distance_m: shownAt(100) },
    );
    expect([answer.where.kind, answer.where.cable, answer.where.mark, answer.band]).toEqual([
      "apart",
      null,
      null,
      null,
    ]);
    expect(answer.candidates).toEqual([]);
    expect(answer.places.map(({ from }) => from.map(({ tag }) => tag))).toEqual([[A], [Z]]);
    const marks = answer.places.map(({ where }) => where.mark?.value ?? 0);
    expect(marks[0]).toBeCloseTo(8900, 1);
    expect(marks[1]).toBeCloseTo(8260, 1);
    expect(answer.readings.map(({ weight }) => weight)).toEqual([1, 1]);
    const [one] = answer.disagreements;
    // 8900 to 8260 along the marks, in metres.
    expect(one?.apart_m).toBeCloseTo(640, 0);
    expect(one?.explained_m).toBeLessThan(20);
    expect(one?.means[0]).toBe(
      "Two breaks, one at each place: the 640\u202fm between them are cut off from both ends.",
    );
    const sentence = answer.sentence.replace(/\s/g, " ");
    expect(sentence).toMatch(/^The readings do not agree on one break: they are 640 m apart, where \d/);
    // One figure is told in one way, wherever it stands.
    const told = (words: string | undefined) =>
      /are (\S+ m) apart, where (\S+ m) could/.exec(words?.replace(/\s/g, " ") ?? "");
    expect(told(one?.words)?.slice(1)).toEqual(told(sentence)?.slice(1));
    for (const mark of ["mark 8 900 m", "mark 8 260 m"]) expect(sentence).toContain(mark);
    expect(answer.notes).not.toContain("The readings are taken to be of one break.");
  });
  it("that overlap can't be two breaks of one strand, and what is wrong is told by how much it would have to be", async () => {
    const { disagreements } = await locatedApart(
      await plantOf(),
      { from: A, distance_m: pastJoint(800) },
      { from: Z, distance_m: shownAt(800) },
    );
    const [one] = disagreements;
    expect(one?.means[0]).toMatch(/^Not two breaks of this strand: each end sees only its first/);
    // 1,215 m from A and 800 m from Z along 1,255 m: 760 of 2,015 m too many.
    expect(one?.means[1]).toMatch(/^A wrong index: in both readings it would have to be off by 37\.\d in 100\.$/);
    expect(one?.means[2]).toMatch(/^A launch cord that was not taken off, or 76\d\sm of cable that are not on record/);
  });
  it("that fit once one of them was made at the other end say so", async () => {
    const plant = await plantOf();
    const at = pastJoint(100);
    const { disagreements } = await locatedApart(plant, { from: A, distance_m: at }, { from: Z, distance_m: at });
    expect(disagreements[0]?.means.at(-1)).toBe(
      `A wrong port: if the reading from ${Z} was made at the other end of its strand, both are of one place.`,
    );
    const other = await locatedApart(plant, { from: A, distance_m: at }, { from: Z, distance_m: shownAt(100) });
    expect(other.disagreements[0]?.means.at(-1)).toMatch(/^A wrong port: one of them was read at a port/);
  });
  it("where one can't be followed, the other is taken", async () => {
    const bare: Reel = {
      tag: "F-1",
      stops: [{ space: "A" }, { space: "H1", out: 100 }, { space: "Z", in: 400, to: 405 }],
      ways: [null, null],
    };
    const plant = await route([bare]);
    const { where, readings } = await located(
      plant,
      { from: A, distance_m: 200 },
      { from: Z, distance_m: shownAt(105) },
    );
    expect(readings.map(({ weight }) => weight)).toEqual([0, 1]);
    expect(where.mark?.value).toBeCloseTo(300, 1);
  });
});

describe("readings of several strands", () => {
  it("of one cable are combined, and what they share stays", async () => {
    const plant = await plantOf();
    const second = "A/PA:02";
    const one = await located(plant, { from: A, distance_m: pastJoint(400) + 0.8 });
    const both = await located(
      plant,
      { from: A, distance_m: pastJoint(400) + 0.8 },
      { from: second, distance_m: pastJoint(400) - 0.8 },
    );
    expect(both.where.mark?.value).toBeCloseTo(8600, 1);
    expect(both.band.likely_m).toBeLessThan(one.band.likely_m);
    const scale = (answer: typeof one) => answer.band.terms.find(({ kind }) => kind === "mark_scale")?.metres;
    expect(scale(both)).toBeCloseTo(scale(one) ?? 0, 1);
    for (const { weight } of both.readings) expect(Math.abs(weight - 0.5)).toBeLessThan(0.02);
  });
  it("at two wavelengths take the wider of two doubts about the index", async () => {
    const plant = await plantOf();
    // The data sheet has an index at 1550 nm; at 1625 nm it is the kind of glass that says.
    const [sheet, kind] = [1550, 1625].map((wavelength_nm) => ({ from: A, distance_m: pastJoint(400), wavelength_nm }));
    const of = async (...readings: Reading[]) =>
      (await located(plant, ...readings)).band.terms.find(
        ({ kind: what, words }) => what === "index" && words.includes("F-2"),
      )?.metres ?? 0;
    expect(await of(kind as Reading, sheet as Reading)).toBeCloseTo(await of(sheet as Reading, kind as Reading), 2);
    expect(await of(kind as Reading, sheet as Reading)).toBeGreaterThan(2 * (await of(sheet as Reading)));
  });
  it("broken each at its own place are two breaks, and those that agree are one place together", async () => {
    const plant = await plantOf({ strands: 3 });
    const at = (port: string, metres: number): Reading => ({ from: `A/PA:${port}`, distance_m: pastJoint(metres) });
    const { places, disagreements, readings } = await locatedApart(
      plant,
      at("01", 100),
      at("03", 700),
      at("02", 100.5),
    );
    expect(places.map(({ from }) => from.map(({ tag }) => tag))).toEqual([[A, "A/PA:02"], ["A/PA:03"]]);
    expect(disagreements).toHaveLength(1);
    expect(disagreements[0]?.means[0]).toMatch(
      /^Two breaks: the strands from .* are each broken at their own place\.$/,
    );
    expect((readings[0]?.weight ?? 0) + (readings[2]?.weight ?? 0)).toBeCloseTo(1, 2);
    expect(readings[1]?.weight).toBe(1);
  });
  it("of one strand at one port, far apart, are a second break or another event", async () => {
    const { disagreements } = await locatedApart(
      await plantOf(),
      { from: A, distance_m: pastJoint(100) },
      { from: A, distance_m: pastJoint(700) },
    );
    expect(disagreements[0]?.means[0]).toMatch(/^A second break nearer to the port/);
    expect(disagreements[0]?.means[1]).toMatch(/^A wrong index: in one of the two/);
  });
  it("that share no cable each have their own place", async () => {
    const plant = await plantOf({
      also: (made, { spaces }) => {
        const [a, h1] = ["A", "H1"].map((tag) => spaces.get(tag) as number) as [number, number];
        const way = made.pathway("W-9", a, h1, 500);
        const { sections } = made.cable("F-9", [a, h1], 1, { ways: [way] });
        const { positions } = made.panel("PX", a, 1);
        made.land(sections[0], "A", positions[0], { method: "splice_on" });
      },
    });
    const { places, disagreements, readings, sentence } = await locatedApart(
      plant,
      { from: A, distance_m: 200 },
      { from: "A/PX:01", distance_m: 100 },
    );
    expect(sentence).toMatch(/^The readings are of different glass: they share no glass and no cable\. From /);
    expect(places.map(({ where }) => where.cable?.tag)).toEqual(["F-1", "F-9"]);
    expect(disagreements.map(({ apart_m, explained_m }) => [apart_m, explained_m])).toEqual([[null, null]]);
    expect(readings.map(({ weight }) => weight)).toEqual([1, 1]);
  });
});

describe("lines that fork or close", () => {
  it("tell each way beyond a splitter, and that the reading can't choose", async () => {
    const plant = await plantOf({
      strands: 1,
      lands: [{ method: "splice_on" }, null],
      also: (made, { spaces, cables }) => {
        const z = spaces.get("Z") as number;
        const splitter = made.module("SP", z, "splitter", 3);
        const [input, ...outputs] = splitter.positions as [number, number, number];
        made.land(cables[1]?.sections[0], "B", input, { method: "splice_on" });
        for (const [at, output] of outputs.entries()) {
          made.join(splitter.id, input, output, { a_side: "front", b_side: "back" });
          const end = made.room(`E${at}`, null);
          const way = made.pathway(`W-E${at}`, z, end, 300 + 100 * at);
          const drop = made.cable(`D-${at}`, [z, end], 1, { ways: [way], stop: [{ slack_m: 0 }, { slack_m: 0 }] });
          const near = made.panel(`PD${at}`, z, 1);
          made.land(drop.sections[0], "A", near.positions[0], { method: "splice_on" });
          made.cord(splitter.ports[at + 1], near.ports[0], { length_m: 1 });
        }
      },
    });
    const before = await located(plant, { from: A, distance_m: pastJoint(100) });
    expect([before.where.mark?.unit, before.ways]).toEqual(["m", []]);
    const beyond = await located(plant, { from: A, distance_m: whole + 100 });
    expect(beyond.ways.map(({ where }) => where.cable?.tag)).toEqual(["D-0", "D-1"]);
    expect(beyond.notes).toContainEqual(expect.stringContaining("can't tell which way is broken"));
    expect(beyond.sentence).toMatch(/^If it is the first of 2 ways beyond the fork: D-0 in W-E0/);
  });
  it("say that light runs both ways round a ring", async () => {
    const ring: Reel = {
      tag: "F-1",
      stops: [
        { space: "A", from: 0, out: 5 },
        { space: "Z", in: 205, to: 210 },
      ],
    };
    const plant = await route([ring], {
      also: (made, { ports }) => {
        made.cord(ports.a[0], ports.z[0], { length_m: 3 });
      },
    });
    const { notes, where } = await located(plant, { from: A, distance_m: shownAt(100) });
    expect(notes[0]).toContain("light runs round both ways");
    expect(where.kind).toBe("leg");
  });
});

describe("what is asked from", () => {
  it("may be a port of two strands: the first is taken, and that is said", async () => {
    const plant = await plantOf({
      lands: [null, null],
      also: (made, { spaces, cables }) => {
        const { positions } = made.panel("PD", spaces.get("A") as number, 1, 2);
        for (const at of [0, 1]) made.land(cables[0]?.sections[at], "A", positions[at], { method: "splice_on" });
      },
    });
    const { readings, notes } = await located(plant, { from: "A/PD:01", distance_m: 100 });
    expect(readings[0]?.where.record?.tag).toBe("F-1:1");
    expect(notes[0]).toBe("A/PD:01 is 2 strands side by side: A/PD:01#1 is taken; name another to have its own.");
    const second = await located(plant, { from: "A/PD:01#2", distance_m: 100 });
    expect(second.where.record?.tag).toBe("F-1:2");
  });
  it("may be a strand: the reading is taken from its A end, and that is said", async () => {
    const { notes, where } = await located(await plantOf(), { from: "F-1:1", distance_m: shownAt(100) });
    expect(where.mark?.value).toBeCloseTo(1100, 1);
    expect(notes[0]).toBe("F-1:1 is not a port: the reading is taken from A/PA:01.");
  });
});

describe("a reading that makes no sense is refused with record, field and reason", () => {
  it("of zero, below zero, of neither distance nor time, of both", async () => {
    const plant = await plantOf();
    const of = (reading: object) => refusal(plant, { from: A, ...reading });
    const more = "what an instrument sees lies at more than 0 m from it";
    expect(await of({ distance_m: 0 })).toEqual(["bad_input", A, "distance_m", `is 0 m: ${more}`]);
    expect(await of({ distance_m: -4 })).toEqual(["bad_input", A, "distance_m", `is -4 m: ${more}`]);
    expect(await of({ time_us: 0 })).toEqual(["bad_input", A, "time_us", expect.stringContaining("is 0 µs")]);
    expect(await of({})).toEqual(["bad_input", A, "distance_m", "has neither a distance nor a time"]);
    expect(await of({ distance_m: 1, time_us: 1 })).toEqual([
      "bad_input",
      A,
      "time_us",
      "has both a distance and a time: give one",
    ]);
  });
  it("at a port that isn't on record, has nothing behind it, or no cord in front", async () => {
    const plant = await plantOf({ lands: [{ method: "splice_on" }, null] });
    expect((await refusal(plant, { from: "A/PA:99", distance_m: 10 })).slice(0, 2)).toEqual(["not_found", "A/PA:99"]);
    expect(await refusal(plant, { from: Z, distance_m: 10 })).toEqual([
      "not_possible",
      Z,
      "from",
      "no glass is on record at this port",
    ]);
    expect(await refusal(plant, { from: A, distance_m: 10, side: "front" })).toEqual([
      "not_possible",
      A,
      "from",
      "no cord is on record in front of this port",
    ]);
  });
});

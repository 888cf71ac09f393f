/** Records that contradict themselves: an answer or a refusal in words, never a hang, nothing below zero. */
import { describe, expect, it } from "vitest";
import type { LossAnswer } from "../../core/light/answer.ts";
import type { Refusal } from "../../core/result.ts";
import { Made, type MadePlant } from "../glass/made.ts";
import { cable, cord, loss, lossOf, makeLine, module, optic } from "./made-line.ts";

const AT = { wavelength_nm: 1310 };

function glass(made: Made, tag: string, values: object = {}, stop: readonly object[] = []) {
  const [a, b] = [made.room(`${tag}a`, null), made.room(`${tag}b`, null)];
  const type = made.add("cable_type", {
    tag: `T${tag}`,
    colour_sequence: "tia_598",
    fibre_class: "g652d",
    excess_ratio: 0,
  });
  return made.cable(tag, [a, b], 1, {
    values: { type_id: type, ...values },
    stop: stop as never,
    ways: [made.pathway(`W${tag}`, a, b, 100)],
  });
}

const sound = ({ lines }: LossAnswer): void => {
  for (const { losses } of lines) {
    for (const { terms, loss_db } of losses) {
      expect(loss_db === null || (Number.isFinite(loss_db) && loss_db >= 0)).toBe(true);
      for (const term of terms) expect(term.loss_db === null || term.loss_db >= 0).toBe(true);
    }
  }
};

describe("glass that runs in a ring", () => {
  it("is reckoned once round", async () => {
    const made = new Made();
    const [one, other] = [glass(made, "F-1"), glass(made, "F-2")];
    made.splice(one.sections[0], "B", other.sections[0], "A");
    made.splice(other.sections[0], "B", one.sections[0], "A");
    const answer = await loss(await made.plant(), "F-1:1", AT);
    sound(answer);
    expect(answer.terms.filter(({ kind }) => kind === "glass")).toHaveLength(2);
  });
});

describe("glass joined twice at one end", () => {
  it("is reckoned by the first branch, and that is said", async () => {
    const made = new Made();
    const cables = ["F-1", "F-2", "F-3"].map((tag) => glass(made, tag));
    for (const at of [1, 2]) made.splice(cables[0]?.sections[0], "B", cables[at]?.sections[0], "A");
    const answer = await loss(await made.plant(), "F-1:1", AT);
    sound(answer);
    expect(answer.lines).toHaveLength(1);
    expect(answer.lines[0]?.assumptions).toContain(
      "The line forks where the record is in doubt: the first branch is reckoned.",
    );
  });
});

describe("marks that go backwards", () => {
  it("never make a loss below zero", async () => {
    const made = new Made();
    glass(made, "F-1", { mark_unit: "m" }, [{ mark_out: 900 }, { mark_in: 100 }]);
    sound(await loss(await made.plant(), "F-1:1", AT));
  });
});

describe("glass without any joint", () => {
  it("is a link of its own, with no pair", async () => {
    const made = new Made();
    glass(made, "F-1");
    const { terms, loss_db } = await loss(await made.plant(), "F-1:1", AT);
    expect([terms.map(({ kind }) => kind), loss_db]).toEqual([["glass"], 0.04]);
  });
});

describe("a cord between two pieces of equipment", () => {
  it("has no link: nothing is counted, and nothing is known", async () => {
    const { answer } = await lossOf([optic(), cord(3), optic()], { ...AT, as: "link" });
    expect(answer).toMatchObject({ terms: [], loss_db: null, complete: false });
  });
});

describe("what can't be asked", () => {
  const refusal = async (asked: object, plant: Promise<MadePlant> = made()): Promise<Refusal["failure"]> => {
    const reply = await (await plant).call("light.loss", asked);
    if (reply.ok) throw new Error("was answered");
    return reply.error;
  };
  const made = () => makeLine([cable(100, "g652d"), module(1), cord(1), optic()]).made.plant();
  it("is refused with field and reason", async () => {
    expect(await refusal({ what: "" })).toMatchObject({ code: "bad_input", problems: [{ field: "what" }] });
    expect(await refusal({ what: "F-404:1" })).toMatchObject({ code: "not_found" });
    expect(await refusal({ what: "F-0:1", wavelength_nm: -1 })).toMatchObject({
      code: "bad_input",
      problems: [{ field: "wavelength_nm", reason: "is below 400 nm" }],
    });
    expect(await refusal({ what: "F-0:1", wavelength_nm: 1200 })).toMatchObject({
      code: "bad_input",
      problems: [{ field: "wavelength_nm", record: "1200 nm" }],
    });
    expect(await refusal({ what: "F-0:1", edition: "mine" })).toMatchObject({
      code: "bad_input",
      problems: [{ field: "edition" }],
    });
    expect(await refusal({ what: { kind: "strand", id: 99 } })).toMatchObject({ code: "not_found" });
  });
});

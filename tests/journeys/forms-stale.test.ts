/** A form about a record carries the version it was typed on: what another desk wrote meanwhile is never written over unseen. */
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newCampus } from "./support/campus.ts";
import { until } from "./support/grid.ts";
import { journeyOn } from "./support/journey.ts";
import { shown } from "./support/look.ts";
import { ask } from "./support/window.ts";

const TAG = "attenuation.g652d.1550";
const DESK_2 = { author: "Desk 2" };

const journey = journeyOn(newCampus, /400|404|409/);
const run = <T>(name: string, input: object) => journey.plant.run<T>(name, input, DESK_2);

const inUse = async () =>
  (await run<AnswerOf<"standards.limits">>("standards.limits", { under: TAG }))
    .limits[0] as AnswerOf<"standards.limits">["limits"][number];
const templates = async () =>
  (await run<{ rows: { id: number; values: { text: string } }[] }>("record.window", { kind: "label_template" })).rows;
const refusal = () => shown(journey.page.locator(".refused"));
const leaf = () => journey.page.locator(".leaf-form");
const press = (name: string) => journey.page.getByRole("button", { name, exact: true }).click();

async function typed(value: string, why: string): Promise<void> {
  await leaf().locator("input").first().fill(value);
  await leaf().locator("textarea").fill(why);
}

describe("a limit of the plant's own that is typed while another desk sets it", () => {
  it("is refused with what stands there now, and keeps its letters", async () => {
    await ask(journey.page, `#/limits?named=${TAG}`);
    await leaf().waitFor();
    await typed("0.24", "measured");
    await run("record.add", {
      kind: "limit_value",
      values: { tag: TAG, value: 0.21, unit: "dB/km", reason: "by the maker" },
    });
    await journey.page.locator(".leaf").getByText("by the maker").waitFor();
    await press("Use this value");
    await journey.page.locator(".refused").waitFor();
    expect(await refusal()).toContain("Desk 2 changed it after you read it. What you typed is not written.");
    expect(await refusal()).toContain("value is now 0.21 dB/km");
    // Below the form, but in sight: the ways out are what is pressed next.
    const over = await journey.page.getByRole("button", { name: "Write mine over it" }).boundingBox();
    const foot = await journey.page.getByRole("contentinfo").boundingBox();
    expect((over?.y ?? Infinity) + (over?.height ?? 0)).toBeLessThanOrEqual(foot?.y ?? 0);
    expect(await refusal()).toContain("reason is now by the maker");
    expect(await leaf().locator("input").first().inputValue()).toBe("0.24");
    expect(await inUse()).toMatchObject({ value: 0.21 });
  });

  it("is written over it by whoever says so", async () => {
    await press("Write mine over it");
    await until("the value typed here", async () => (await inUse()).value === 0.24);
    await journey.page.locator(".refused").waitFor({ state: "detached" });
  });

  it("is refused with both values where it was changed, and can be left as it is", async () => {
    // Typed on what was just written, once the page has read it.
    await journey.page.locator(".leaf").getByText("0.24 dB/km").first().waitFor();
    await leaf().locator("input").first().fill("0.25");
    await run("record.edit", { kind: "limit_value", id: (await inUse()).record?.id, values: { value: 0.2 } });
    await journey.page.locator(".leaf").getByText("0.2 dB/km").first().waitFor();
    await press("Use this value");
    await journey.page.locator(".refused").waitFor();
    expect(await refusal()).toContain("value is now 0.2 dB/km, it was 0.24 dB/km");
    await press("Leave it as it is");
    await journey.page.locator(".refused").waitFor({ state: "detached" });
    await until(
      "the value on record in the form",
      async () => (await leaf().locator("input").first().inputValue()) === "0.2",
    );
    expect(await inUse()).toMatchObject({ value: 0.2 });
  });

  it("is refused where it was taken back, and added again by whoever says so", async () => {
    await leaf().locator("input").first().fill("0.26");
    await run("record.remove", { kind: "limit_value", ids: [(await inUse()).record?.id] });
    await journey.page.locator(".leaf").getByText("as published").first().waitFor();
    await press("Use this value");
    await journey.page.locator(".refused").waitFor();
    expect(await inUse()).toMatchObject({ own: false });
    await press("Write mine over it");
    await until("the value typed here", async () => (await inUse()).value === 0.26);
    await journey.looks();
  });
});

describe("a wording of labels that is tried while another desk writes it", () => {
  it("is refused with both versions and stays to be seen; left as it is, theirs is on the label", async () => {
    const { page } = journey;
    await run("record.add", {
      kind: "label_template",
      values: { tag: "room tag", place: "indoor", text: "{tag}\n{count} strands", code: "qr" },
    });
    await ask(page, "#/labels?of=F-014");
    const wording = page.locator(".label-wording textarea");
    await page.getByText("“room tag”, kept with the plant").waitFor();
    await wording.fill("{tag}\nmine");
    await run("record.edit", {
      kind: "label_template",
      id: (await templates())[0]?.id,
      values: { text: "{tag}\ntheirs" },
    });
    await until("that the label reads so", async () => (await shown(page.locator(".label-sheet"))).includes("mine"));
    await press("Change “room tag”");
    await page.locator(".refused").waitFor();
    expect(await refusal()).toContain("Desk 2 changed it after you read it. What you typed is not written.");
    expect(await refusal()).toMatch(/wording is now \{tag\}\s*theirs, it was \{tag\}\s*\{count\} strands/);
    expect(await wording.inputValue()).toBe("{tag}\nmine");
    await journey.looks();
    await press("Leave it as it is");
    await until("their text", async () => (await wording.inputValue()) === "{tag}\ntheirs");
    expect((await templates()).map(({ values }) => values.text)).toEqual(["{tag}\ntheirs"]);
  });

  it("is written over theirs by whoever says so", async () => {
    const { page } = journey;
    await page.locator(".label-wording textarea").fill("{tag}\nmine");
    await run("record.edit", { kind: "label_template", id: (await templates())[0]?.id, values: { text: "{tag}" } });
    await until("that the label reads so", async () => (await shown(page.locator(".label-sheet"))).includes("mine"));
    await press("Change “room tag”");
    await page.locator(".refused").waitFor();
    await press("Write mine over it");
    await until("my text", async () => (await templates())[0]?.values.text === "{tag}\nmine");
  });
});

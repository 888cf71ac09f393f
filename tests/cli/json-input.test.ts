/**
 * The input of `run` as JSON, held to RFC 8259 (December 2017): what its grammar has is read, what it hasn't is refused
 * before anything is done. The cases are of the kinds of the public suite for JSON parsers (`y_` must be read, `n_` must be
 * refused, by its own naming), written here from the grammar; five of its files are taken as they stand.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { cli, newFile } from "./support.ts";

let file: string;
beforeAll(async () => {
  file = await newFile();
});
const run = (input: string, operation = "record.add") =>
  cli(["run", file, operation, "--input", "-", "--json"], { input });
const building = (tag: string, name: string): string => `{"kind":"building","values":{"tag":"${tag}","name":${name}}}`;

interface Added {
  readonly changes: readonly { readonly fields: readonly { readonly field: string; readonly after: unknown }[] }[];
}

describe("JSON that must be read", () => {
  it.each([
    ["string_utf8 as it stands", "B1", '"Größe 光"', "Größe 光"],
    ["string_unicode_escape (section 7)", "B2", String.raw`"\u0041\u00e9"`, "A\u00e9"],
    ["string_surrogates: the G clef of section 7", "B3", String.raw`"\uD834\uDD1E"`, "\u{1d11e}"],
    ["string_two-character escapes", "B4", String.raw`"a\/b\\c\"d"`, 'a/b\\c"d'],
    ["structure_null", "B5", "null", undefined],
  ])("%s", async (_, tag, text, meant) => {
    const { code, notes, json } = await run(building(tag, text));
    expect([code, notes]).toEqual([0, ""]);
    const [change] = json<Added>().changes;
    expect(change?.fields.find(({ field }) => field === "name")?.after).toBe(meant);
  });

  it.each([
    ["structure_whitespace_array: blanks of all four kinds (section 2)", `\t\r\n ${building("B6", '"x"')} \n`],
    ["a byte-order mark before it, which may be left aside (section 8.1)", `\ufeff${building("B7", '"x"')}`],
    ["object_duplicated_key: the last one counts", '{"kind":"space","kind":"building","values":{"tag":"B8"}}'],
  ])("%s", async (_, text) => {
    expect((await run(text)).code).toBe(0);
  });
});

describe("JSON that must be refused", () => {
  it.each([
    // As they stand in the suite.
    ["n_number_-00.0", "[-00.0]"],
    ["n_number_-00e0", "[-00e0]"],
    ["n_number_00.0", "[00.0]"],
    ["n_number_00e0", "[00e0]"],
    ["n_string_octal_escape", String.raw`["\07"]`],
    // Of its kinds.
    ["n_array_extra_comma", '{"kind":"building","values":{"tag":"N1"},}'],
    ["n_array_unclosed", '{"kind":"building","values":{"tag":"N1"'],
    ["n_object_single_quote", "{'kind':'building','values':{'tag':'N1'}}"],
    ["n_object_unquoted_key", '{kind:"building",values:{"tag":"N1"}}'],
    ["n_object_with_comment", '{"kind":"building",/* x */"values":{"tag":"N1"}}'],
    ["n_object_trailing", `${building("N1", '"x"')} x`],
    ["n_string_unescaped_newline", building("N1", '"a\nb"')],
    ["n_string_invalid_escape", building("N1", String.raw`"\x41"`)],
    ["n_number_NaN", '{"kind":"building","values":{"tag":NaN}}'],
    ["n_number_plus", '{"kind":"building","values":{"tag":+1}}'],
    ["n_single_space", " "],
    ["n_structure_100000_opening_arrays", "[".repeat(100_000)],
  ])("%s", async (_, text) => {
    const { code, notes, out } = await run(text);
    expect(code).toBe(2);
    expect(notes).toContain("The input is not JSON");
    expect(out).toBe("");
  });

  it("by its form, where it is JSON of another shape: an array, a number, deep nests, a key nobody takes", async () => {
    for (const text of [
      "[]",
      "1e2",
      `${"[".repeat(10_000)}${"]".repeat(10_000)}`,
      '{"kind":"building","values":{"tag":"N1"},"constructor":1}',
      '{"kind":"building","values":{"tag":"N1"},"__proto__":{"x":1}}',
    ]) {
      const { code, notes } = await run(text);
      expect([text.slice(0, 60), code]).toEqual([text.slice(0, 60), 1]);
      expect(notes).not.toBe("");
    }
  });

  it("leaves nothing behind", async () => {
    const { json } = await cli(["run", file, "record.window", "--input", '{"kind":"building","text":"N1"}', "--json"]);
    expect(json<{ total: number }>().total).toBe(0);
  });
});

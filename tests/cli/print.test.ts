import { describe, expect, it } from "vitest";
import { anything, facts, printable, table, textWidth, wrap } from "../../host/cli/print.ts";

describe("a table", () => {
  const columns = [
    { head: "tag", cell: (row: { tag: string; n: number | null }) => row.tag },
    { head: "strands", cell: (row: { tag: string; n: number | null }) => row.n, right: true },
  ];
  it("aligns its columns, numbers to the right, unknown left empty", () => {
    const rows = [
      { tag: "F-012", n: 144 },
      { tag: "F-1", n: null },
    ];
    expect(table(rows, columns)).toBe(["tag    strands", "-----  -------", "F-012      144", "F-1", ""].join("\n"));
  });
  it("counts what the terminal shows, not code units", () => {
    expect(textWidth("光ファイバ")).toBe(10);
    expect(textWidth("e\u0301cole")).toBe(5);
    expect(textWidth("👷")).toBe(1);
  });
  it("wraps the last column under itself", () => {
    const rows = [{ tag: "A", help: "one two three four five six seven" }];
    const text = table(
      rows,
      [
        { head: "tag", cell: (row) => row.tag },
        { head: "help", cell: (row) => row.help },
      ],
      29,
    );
    expect(text).toBe(
      ["tag  help", `---  ${"-".repeat(24)}`, "A    one two three four five", "     six seven", ""].join("\n"),
    );
  });
});

describe("a table wider than the terminal", () => {
  const wide = [
    { head: "tag", cell: (row: { words: string }) => row.words.slice(0, 3) },
    { head: "in one job", cell: (row: { words: string }) => row.words },
    { head: "by itself", cell: (row: { words: string }) => row.words },
    { head: "hours in all", cell: () => "12.5 h", right: true },
  ];
  it("wraps its widest columns, and numbers stand beside their first line", () => {
    expect(table([{ words: "one two three four" }], wide, 36)).toBe(
      [
        "tag  in one job  by itself    hours",
        "                             in all",
        "---  ----------  ----------  ------",
        "one  one two     one two     12.5 h",
        "     three four  three four",
        "",
      ].join("\n"),
    );
  });
  it("leaves its columns whole where a word is longer than the terminal", () => {
    const [, , row] = table([{ words: "LIB/2A/P1:01-LIB/2A/P1:24 and on" }], wide, 36).split("\n");
    expect(row).toBe("LIB  LIB/2A/P1:01-LIB/2A/P1:24 and on  LIB/2A/P1:01-LIB/2A/P1:24 and on        12.5 h");
  });
});

describe("text from a plant file", () => {
  it("can't steer the terminal", () => {
    expect(printable("a\u001b[31mred\u0007\u009b2J")).toBe("a\\u001b[31mred\\u0007\\u009b2J");
    expect(printable("two\nlines")).toBe("two lines");
    expect(printable("\u202eright to left")).toBe("\\u202eright to left");
    expect(printable("straße 光 عربي")).toBe("straße 光 عربي");
  });
});

describe("any answer", () => {
  it("is facts, then tables", () => {
    const answer = {
      total: 2,
      where: { kind: "space", id: 4, tag: "LIB/101" },
      nothing: null,
      rows: [
        { tag: "A", strands: 12 },
        { tag: "B", strands: 144 },
      ],
      none: [],
    };
    expect(anything(answer, 80)).toBe(
      [
        "total  2",
        "where  LIB/101",
        "",
        "rows",
        "tag  strands",
        "---  -------",
        "A         12",
        "B        144",
        "",
      ].join("\n"),
    );
    expect(anything(null, 80)).toBe("nothing\n");
    expect(anything([], 80)).toBe("none\n");
  });
  it("wraps a long fact under its value, where it is told how wide", () => {
    const pairs = [
      ["source", "one two three four five six"],
      ["m", 1],
    ] as const;
    expect(facts(pairs, 32)).toBe(["source  one two three four five", "        six", "m       1", ""].join("\n"));
    expect(facts(pairs)).toBe(["source  one two three four five six", "m       1", ""].join("\n"));
  });
  it("leaves out facts that aren't known", () => {
    expect(
      facts([
        ["length", null],
        ["marks", 0],
      ]),
    ).toBe("marks  0\n");
  });
  it("keeps a word that is longer than the line", () => {
    expect(wrap("a verylongwordindeed b", 6)).toEqual(["a", "verylongwordindeed", "b"]);
  });
});

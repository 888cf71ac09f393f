/** A file's name as it is kept: its last part alone, with nothing in it that hides, turns or breaks a name. */

const LONGEST = 200;

/** Never empty: a name of which nothing is left is "file". */
export function keptName(given: string): string {
  const last = given.split(/[/\\]/).at(-1) ?? "";
  const plain = last
    .normalize("NFC")
    // Control and invisible characters, and those that turn the reading direction (so that exe.jpg isn't shown for gpj.exe).
    .replace(/[\p{C}\u2028\u2029\ufffd]+/gu, "")
    .replace(/[:*?"<>|]+/g, "-")
    .replace(/\s+/g, " ")
    .replace(/^[\s.]+|[\s.]+$/g, "");
  if (plain === "") return "file";
  const letters = [...plain];
  if (letters.length <= LONGEST) return plain;
  const [ending = ""] = /\.[^.]{1,10}$/.exec(plain) ?? [];
  return `${letters.slice(0, LONGEST - ending.length).join("")}${ending}`;
}

/**
 * Opens plant files by a double click on Windows: keys of the user's own part of the registry, written by the system's
 * `reg.exe` (documented by Microsoft under "File Types and Default Programs"; from memory, not tried here).
 */
const CLASSES = "HKCU\\Software\\Classes";
const ENDING = `${CLASSES}\\.strandbook`;
const PLANT = `${CLASSES}\\Strandbook.Plant`;

const value = (key: string, text: string, name: readonly string[] = ["/ve"]): readonly string[] => [
  ...["add", key, ...name, "/t", "REG_SZ", "/d", text, "/f"],
];

/** Words of `reg.exe`, one call each. */
export function registryAdds(command: readonly string[]): readonly (readonly string[])[] {
  const line = [...command, "%1"].map((word) => `"${word}"`).join(" ");
  return [
    value(PLANT, "Strandbook plant"),
    value(`${PLANT}\\shell\\open\\command`, line),
    // Beside whatever else opens that ending, and first as long as the user chose nothing else.
    value(`${ENDING}\\OpenWithProgids`, "", ["/v", "Strandbook.Plant"]),
    value(ENDING, "Strandbook.Plant"),
  ];
}

/** The keys that are wholly ours. */
export const registryDeletes = (): readonly (readonly string[])[] => [
  ["delete", PLANT, "/f"],
  ["delete", `${ENDING}\\OpenWithProgids`, "/v", "Strandbook.Plant", "/f"],
  ["delete", ENDING, "/ve", "/f"],
];

/** Bytes to text. Only UTF-8 is taken: another encoding is named, never guessed at, so that no letter is lost. */
import { refuse } from "../core/result.ts";
import { say } from "../core/words/say.ts";

export async function* utf8(name: string, pieces: AsyncIterable<Uint8Array>): AsyncIterable<string> {
  // A byte order mark at the start is taken off by the decoder.
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let first = true;
  let seen = 0;
  for await (const bytes of pieces) {
    if (first) refuseOther(name, bytes);
    first = false;
    let text: string;
    try {
      text = decoder.decode(bytes, { stream: true });
    } catch {
      refuseLatin(name, bytes, seen);
    }
    seen += bytes.length;
    if (text.includes("\0")) {
      refuse("bad_input", say`${name} is not a text file.`, [{ file: name, reason: say`holds zero bytes` }]);
    }
    if (text !== "") yield text;
  }
  try {
    const rest = decoder.decode();
    if (rest !== "") yield rest;
  } catch {
    refuse("bad_input", say`${name} ends in the middle of a character: it may be cut off.`, [
      { file: name, reason: say`ends in the middle of a character` },
    ]);
  }
}

function refuseOther(name: string, bytes: Uint8Array): void {
  const [a, b] = bytes;
  const marked = (a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff);
  const zeros = bytes.subarray(0, 64).filter((byte) => byte === 0).length;
  if (marked || zeros > 8) {
    refuse("bad_input", say`${name} seems to be UTF-16. Save it as UTF-8 and read it again.`, [
      { file: name, reason: say`seems to be UTF-16, not UTF-8` },
    ]);
  }
}

function refuseLatin(name: string, bytes: Uint8Array, seen: number): never {
  const at = bytes.findIndex((byte) => byte >= 0x80);
  refuse(
    "bad_input",
    say`${name} is not UTF-8; it seems to be Windows-1252 or another older encoding. Save it as UTF-8.`,
    [{ file: name, reason: say`is not UTF-8 near byte ${seen + Math.max(0, at)}` }],
  );
}

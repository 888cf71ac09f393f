/** Files on their way into the record and out of it: what may be taken in, their bytes, and pictures as the window draws them. */
import type { Failure } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import type { Client } from "../client/client.ts";

/** As the program says it; a file above it needn't travel to be refused. */
export const MOST_MB = 20;
export const SHOWN_TYPES: ReadonlySet<string> = new Set(["image/jpeg", "image/png", "image/gif", "image/webp"]);
const PICTURE_NAME = /\.(jpe?g|png|gif|webp)$/i;

/** Why a file can't be kept, or null. A picture must be one that can be drawn. */
export async function unfit(file: File): Promise<string | null> {
  if (file.size === 0) return say`${file.name} is empty.`;
  if (file.size > MOST_MB * 1024 * 1024)
    return say`${file.name} has ${Math.ceil(file.size / 1_048_576)} MB; at most ${MOST_MB} MB are kept of one file.`;
  if (!PICTURE_NAME.test(file.name)) return null;
  try {
    (await createImageBitmap(file)).close();
    return null;
  } catch {
    return say`${file.name} is not a picture, or it is damaged: it can't be drawn.`;
  }
}

export function base64Of(file: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ""));
    reader.onerror = () => reject(reader.error ?? new Error("can't be read"));
    reader.readAsDataURL(file);
  });
}

export interface Fetched {
  readonly name: string;
  /** Its type where it is a picture that is drawn; else bytes without a type, which no browser opens as a page. */
  readonly blob: Blob;
  readonly picture: boolean;
}

export async function fetched(client: Client, id: number): Promise<Fetched | Failure> {
  const reply = await client.call("attachment.content", { id });
  if (!reply.ok) return reply.error;
  const { name, media_type, picture, content } = reply.value;
  const text = atob(content);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  const shown = picture && SHOWN_TYPES.has(media_type);
  return { name, picture: shown, blob: new Blob([bytes], { type: shown ? media_type : "application/octet-stream" }) };
}

/** Pictures that were looked at lately, by their content: it never changes. */
const KEPT = 24;
const pictures = new Map<string, string>();

export function recallPicture(hash: string): string | null {
  return pictures.get(hash) ?? null;
}

export function keepPicture(hash: string, blob: Blob): string {
  const known = pictures.get(hash);
  if (known) return known;
  const address = URL.createObjectURL(blob);
  pictures.set(hash, address);
  for (const [old, at] of pictures) {
    if (pictures.size <= KEPT) break;
    pictures.delete(old);
    URL.revokeObjectURL(at);
  }
  return address;
}

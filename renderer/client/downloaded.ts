/** A PDF that came through the loopback host, handed to the browser as a download. */
import type { Reply } from "../../core/operations/dispatch.ts";
import { MISSING_HEADER, PAGES_HEADER, type PaperReply } from "../../core/operations/wire.ts";

/** The browser begins to read the address when it is clicked; it is let go once that is surely so. */
const LET_GO_MS = 60_000;

/** What the host answered to a call for paper; anything but a PDF is a refusal. */
export async function downloaded(response: Response): Promise<PaperReply> {
  if (!response.headers.get("content-type")?.startsWith("application/pdf")) {
    const reply = (await response.json()) as Reply;
    if (reply.ok) throw new Error("an answer that is neither paper nor a refusal");
    return { ok: false, error: reply.error };
  }
  const { headers } = response;
  const name = decodeURIComponent(/filename\*=UTF-8''(\S+)/.exec(headers.get("content-disposition") ?? "")?.[1] ?? "");
  const missing = (headers.get(MISSING_HEADER) ?? "").split(" ").filter(Boolean).map(decodeURIComponent);
  offer(await response.blob(), name);
  return { ok: true, value: { name, pages: Number(headers.get(PAGES_HEADER)), missing, path: null } };
}

function offer(file: Blob, name: string): void {
  const address = URL.createObjectURL(file);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), LET_GO_MS);
}

/** The plant on which every example stands, in as many copies as are wanted, each with folders of its own. */
import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openApplication } from "../../host/application.ts";
import type { Folders } from "./example.ts";
import { PLANT } from "./examples.ts";
import { DESK } from "./examples-runs.ts";
import { AUTHOR } from "./transports.ts";

export interface Ground {
  /** In it everything lies; whoever made it deletes it by `end`. */
  readonly folder: string;
  /** A plant file and folders of its own. */
  fresh(): { readonly file: string; readonly folders: Folders };
  /** Without what rightly differs from copy to copy: moments, where files lie, and the facts that are named. */
  comparable(value: unknown, differs?: readonly string[]): unknown;
  end(): void;
}

export async function newGround(): Promise<Ground> {
  const folder = mkdtempSync(join(tmpdir(), "strandbook-operations-"));
  const base = join(folder, "base.strandbook");
  const files = join(folder, "files");
  const other = join(folder, "other.strandbook");
  const application = await openApplication(base, { create: { name: "Test Campus" }, backupAtClose: false });
  for (const [name, input] of [...PLANT, ...DESK]) {
    const reply = await application.session.dispatch({ name, input, occasion: { author: AUTHOR } });
    if (!reply.ok) throw new Error(`${name}: ${reply.error.message} ${JSON.stringify(reply.error.problems)}`);
  }
  const exported = await application.session.dispatch({ name: "exchange.export", input: { folder: files } });
  if (!exported.ok) throw new Error(exported.error.message);
  await application.close();
  copyFileSync(base, other);
  const elsewhere = await openApplication(other, { backupAtClose: false });
  const input = { kind: "building", values: { tag: "ELSE" } };
  await elsewhere.session.dispatch({ name: "record.add", input, occasion: { author: "Somebody Else" } });
  await elsewhere.close();
  let count = 0;
  return {
    folder,
    fresh() {
      const own = join(folder, `${++count}`);
      const out = join(own, "out");
      mkdirSync(out, { recursive: true });
      const file = join(own, "campus.strandbook");
      copyFileSync(base, file);
      return { file, folders: { files, out, other } };
    },
    comparable(value, differs = []) {
      const text = JSON.stringify(value, (key, inner) => (differs.includes(key) ? "differs" : inner));
      return JSON.parse(
        text
          .replaceAll(/\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z/g, "a moment")
          .replaceAll(new RegExp(`${folder}/\\d+/`, "g"), "a folder/"),
      );
    },
    end: () => rmSync(folder, { recursive: true, force: true }),
  };
}

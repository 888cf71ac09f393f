/** The splice sheet as a table to fill in, kept as a file; filled in, it is read as an as-built sheet. */
import { useState } from "react";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { Button } from "../../controls/button.tsx";
import { notify, sayRefused } from "../../frame/notices.tsx";
import { keepAsFile } from "../check/keep.ts";

export function SpliceTable({ of }: { readonly of: string }) {
  const client = useClient();
  const [busy, setBusy] = useState(false);
  const keep = async (): Promise<void> => {
    setBusy(true);
    try {
      const reply = await client.call("paper.splice_table", { case: of });
      if (!reply.ok) return sayRefused(reply.error);
      const { file, media_type, text } = reply.value;
      keepAsFile(file, media_type, text);
      notify(say`${file}: your browser keeps it with its downloads. Filled in, read it as an as-built sheet.`);
    } finally {
      setBusy(false);
    }
  };
  return (
    <Button
      onClick={() => void keep()}
      busy={busy ? say`Writing` : null}
      title={say`A file for a spreadsheet, with the columns that as-built sheets are read by`}
    >
      {say`As a table to fill in`}
    </Button>
  );
}

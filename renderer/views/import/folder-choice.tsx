/** How a folder is named: chosen in the system's own dialog where there is one, typed as a path elsewhere. */
import { type FormEvent, useState } from "react";
import { onDesktop } from "../../capabilities/browser.ts";
import { useClient } from "../../client/context.ts";
import { Button } from "../../controls/button.tsx";
import { goWith } from "../../frame/router.ts";

interface Props {
  readonly what: string;
  readonly value: string;
  readonly act: string;
}

export function FolderChoice({ what, value, act }: Props) {
  const client = useClient();
  const [text, setText] = useState(value);
  const choose = async () => {
    const folder = await client.capabilities.chooseFolder(what);
    if (folder) goWith({ folder });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (text.trim()) goWith({ folder: text.trim() });
  };
  return (
    <form className="folder-choice" onSubmit={submit}>
      {onDesktop() ? (
        <Button filled onClick={() => void choose()}>
          {what}
        </Button>
      ) : null}
      <label>
        <span>{onDesktop() ? "or type its path" : "The folder's path on this machine"}</span>
        <input
          className="form-input tag"
          size={52}
          value={text}
          spellCheck={false}
          autoComplete="off"
          onChange={(event) => setText(event.target.value)}
        />
      </label>
      <Button submit filled={!onDesktop()} disabled={text.trim() === ""}>
        {act}
      </Button>
    </form>
  );
}

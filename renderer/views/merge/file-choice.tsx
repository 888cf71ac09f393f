/** How another plant file is named: chosen in the system's own dialog where there is one, typed as a path elsewhere. */
import { type FormEvent, useState } from "react";
import { onDesktop } from "../../capabilities/browser.ts";
import { useClient } from "../../client/context.ts";
import { Button } from "../../controls/button.tsx";
import { goWith } from "../../frame/router.ts";

const WHAT = "Choose another file of this plant";

export function FileChoice({ value }: { readonly value: string }) {
  const client = useClient();
  const [text, setText] = useState(value);
  const choose = async () => {
    const file = await client.capabilities.chooseFile(WHAT);
    if (file) goWith({ file });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (text.trim()) goWith({ file: text.trim() });
  };
  return (
    <form className="merge-choice" onSubmit={submit}>
      {onDesktop() ? (
        <Button filled onClick={() => void choose()}>
          {WHAT}
        </Button>
      ) : null}
      <label>
        <span>{onDesktop() ? "or type its path" : "The file's path on this machine"}</span>
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
        Compare
      </Button>
    </form>
  );
}

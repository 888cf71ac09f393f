/** How a folder or file is named: chosen in the system's own dialog where there is one, typed as a path elsewhere. */
import { type FormEvent, useState } from "react";
import { onDesktop } from "../capabilities/browser.ts";
import { useClient } from "../client/context.ts";
import { goWith } from "../frame/router.ts";
import { Button } from "./button.tsx";

interface Props {
  /** What is named, and the blank of the question that takes it. */
  readonly thing: "folder" | "file";
  readonly what: string;
  readonly value: string;
  readonly act: string;
}

export function PathChoice({ thing, what, value, act }: Props) {
  const { capabilities } = useClient();
  const [text, setText] = useState(value);
  const choose = async () => {
    const path = await (thing === "folder" ? capabilities.chooseFolder(what) : capabilities.chooseFile(what));
    if (path) goWith({ [thing]: path });
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (text.trim()) goWith({ [thing]: text.trim() });
  };
  return (
    <form className="path-choice" onSubmit={submit}>
      {onDesktop() ? (
        <Button filled onClick={() => void choose()}>
          {what}
        </Button>
      ) : null}
      <label>
        <span>{onDesktop() ? "or type its path" : `The ${thing}'s path on this machine`}</span>
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

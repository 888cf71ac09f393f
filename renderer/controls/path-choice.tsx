/**
 * How a folder or file is named: dropped anywhere on the window, chosen in the system's own dialog where there is one, or
 * typed as a path. A browser doesn't say where a dropped file lies: there its name stands in the field, to be completed.
 */
import { type FormEvent, useEffect, useState } from "react";
import { say } from "../../core/words/say.ts";
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
  const [dropped, setDropped] = useState<string | null>(null);
  const choose = async () => {
    const path = await (thing === "folder" ? capabilities.chooseFolder(what) : capabilities.chooseFile(what));
    if (path) goWith({ [thing]: path });
  };
  useEffect(() => {
    // Before the window takes a plant file for one to be opened.
    const drop = (event: DragEvent) => {
      const file = event.dataTransfer?.files[0];
      if (!file) return;
      event.preventDefault();
      const path = capabilities.pathOf(file);
      if (path !== null) return goWith({ [thing]: path });
      setText(file.name);
      setDropped(file.name);
    };
    window.addEventListener("drop", drop, true);
    return () => window.removeEventListener("drop", drop, true);
  }, [capabilities, thing]);
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
        <span>{onDesktop() ? say`or type its path` : say`The ${thing}'s path on this machine`}</span>
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
      <p className="soft" role="status">
        {dropped === null
          ? say`Or drop the ${thing} on this window.`
          : say`A browser doesn't say where ${dropped} lies: type the folder before its name.`}
      </p>
    </form>
  );
}

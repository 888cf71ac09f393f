/** Writes the plant as it stood on a day to a file of its own, and says where and which of the two it is. */
import { useState } from "react";
import { shownDay } from "../../../core/model/wording.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { onDesktop } from "../../capabilities/browser.ts";
import { useClient } from "../../client/context.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { Refused } from "../../controls/refused.tsx";

type Picture = AnswerOf<"history.as_of">;

export function AsOf({ day }: { readonly day: string }) {
  const { act } = useAct();
  const client = useClient();
  const [making, setMaking] = useState<Picture["knowledge"] | null>(null);
  const [made, setMade] = useState<Picture | null>(null);
  const [refused, setRefused] = useState<Failure | null>(null);
  const make = async (knowledge: Picture["knowledge"]) => {
    setMaking(knowledge);
    setRefused(null);
    const reply = await act("history.as_of", { day, knowledge });
    setMaking(null);
    if (!reply) return;
    if (reply.ok) setMade(reply.value);
    else setRefused(reply.error);
  };
  return (
    <>
      <p className="soft">
        {say`As a file that is only read, traced and checked as any plant. What stood on ${shownDay(day)} can mean two things:`}
      </p>
      <div className="as-of-ways">
        <Button busy={making === "known" ? say`Writing` : null} onClick={() => void make("known")}>
          {say`Work done by then, by all that is known now`}
        </Button>
        <Button busy={making === "recorded" ? say`Writing` : null} onClick={() => void make("recorded")}>
          {say`What the record said then`}
        </Button>
      </div>
      {refused ? <Refused failure={refused} /> : null}
      {made ? (
        <div role="status" className="as-of-made">
          <p>{made.summary}.</p>
          <p className="tag">{made.path}</p>
          {made.notices.map((notice) => (
            <p key={notice}>{notice}</p>
          ))}
          {onDesktop() ? (
            <div className="as-of-ways">
              <Button onClick={() => void client.capabilities.reveal(made.path)}>{say`Show the file`}</Button>
              <Button onClick={() => void client.capabilities.openPlant()}>{say`Open a plant`}</Button>
            </div>
          ) : (
            <p className="soft">{say`Open it as any plant: its first line says what it shows.`}</p>
          )}
        </div>
      ) : null}
    </>
  );
}

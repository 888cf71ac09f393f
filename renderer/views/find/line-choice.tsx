/** Several lines of different courses: which one is shown below. */
import type { TraceLine } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { goWith } from "../../frame/router.ts";

export function LineChoice({ lines, chosen }: { readonly lines: readonly TraceLine[]; readonly chosen: number }) {
  const named = lines.map((line, index) => {
    const first = line.root.hops.find(({ kind }) => kind === "strand")?.record.tag ?? line.asked;
    return { line, name: first, key: `${index} ${line.asked} ${first}` };
  });
  return (
    <fieldset className="line-choice">
      <legend className="hush">{say`Which line is shown`}</legend>
      {named.map(({ line, name, key }, index) => (
        <button
          key={key}
          type="button"
          aria-pressed={index === chosen}
          onClick={() => goWith({ line: String(index + 1), at: null }, { replace: true })}
        >
          <span className="tag">{name}</span>
          <span className="small faint">
            {line.root.branches.length > 0 || line.behind
              ? say`forks`
              : line.root.hops.length <= 1
                ? say`goes no further`
                : say`to ${line.to.record?.tag ?? line.to.words}`}
          </span>
        </button>
      ))}
    </fieldset>
  );
}

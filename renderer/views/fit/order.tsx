/** The length to order: its parts laid end to end to scale, and one by one with where each number comes from. */
import type { FitnessFigure, WouldFitAnswer } from "../../../core/fitness/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { Said } from "../../controls/said.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { monoWidth, sansWidth } from "../../drawing/scale.ts";
import { textScale } from "../../drawing/text-scale.ts";
import { useWidth } from "../../drawing/use-width.ts";
import { BASIS_WORDS } from "../fitness/words.ts";

type Order = WouldFitAnswer["order"];

const K = textScale();
const LEFT = 20;
const LEAST_PX = 2;

/** What is recorded is solid; what is only added by a limit or worked out is open. */
const solid = ({ basis }: FitnessFigure): boolean => basis === "recorded" || basis === "measured";

export function OrderBar({ order }: { readonly order: Order }) {
  const [holder, width] = useWidth<HTMLDivElement>();
  const length = useLength();
  const known = order.parts.filter(({ value }) => value !== null && value > 0);
  const whole = known.reduce((sum, { value }) => sum + (value ?? 0), 0);
  const perMetre = whole > 0 ? (width - 2 * LEFT) / whole : 0;
  let x = LEFT;
  const laid = known.map((part) => {
    const breadth = Math.max(LEAST_PX, (part.value ?? 0) * perMetre);
    const at = x;
    x += breadth;
    return { part, x: at, breadth };
  });
  const total = order.length_m === null ? say`at least ${length(order.at_least_m, 0)}` : length(order.length_m, 0);
  return (
    <div ref={holder}>
      <svg
        width={width}
        height={78 * K}
        role="img"
        aria-label={say`${total} to order, part by part to scale; the table below says each.`}
      >
        {laid.map(({ part, x: at, breadth }) => {
          const tag = part.rests_on[0]?.tag ?? "";
          const words = length(part.value ?? 0, 0);
          return (
            <g key={at} transform={`translate(${at} ${26 * K})`}>
              <rect
                width={breadth}
                height="12"
                fill={solid(part) ? "var(--ink2)" : "var(--paper)"}
                stroke="var(--ink)"
                strokeWidth="1.25"
              />
              {tag && breadth > monoWidth(tag) * K + 6 ? (
                <text className="strip-tag" x={breadth / 2} y={-8} textAnchor="middle">
                  {tag}
                </text>
              ) : null}
              {breadth > sansWidth(words) * K + 4 ? (
                <text className="strip-length" x={breadth / 2} y={12 + 16 * K} textAnchor="middle">
                  {words}
                </text>
              ) : null}
            </g>
          );
        })}
        <text className="strip-length" x={LEFT} y={72 * K}>
          {say`${total} to order. Solid: on record; open: added for coils, crossings, ends and waste.`}
        </text>
      </svg>
    </div>
  );
}

export function OrderTable({ order }: { readonly order: Order }) {
  const length = useLength();
  return (
    <section className="fit-order" aria-labelledby="fit-order">
      <h2 id="fit-order">{say`Length to order`}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{say`part`}</th>
            <th scope="col" className="figure">
              {say`length`}
            </th>
            <th scope="col">{say`known by`}</th>
            <th scope="col">{say`where it comes from`}</th>
          </tr>
        </thead>
        <tbody>
          {order.parts.map((part, index) => (
            // Ends and holes come more than once with the same words.
            // biome-ignore lint/suspicious/noArrayIndexKey: parts have no name of their own, and their order is the cable's
            <tr key={index}>
              <th scope="row">
                {part.words}
                {part.rests_on.map((record) => (
                  <span key={`${record.kind} ${record.id}`}>
                    {" "}
                    <TagLink record={record} />
                  </span>
                ))}
              </th>
              <td className="figure">
                {part.value === null ? <span className="faint">{say`not given`}</span> : length(part.value, 1)}
              </td>
              <td className="soft">{BASIS_WORDS[part.basis]}</td>
              <td className="soft">{part.source}</td>
            </tr>
          ))}
          <tr className="fit-sum">
            <th scope="row">{order.length_m === null ? say`at least` : say`to order`}</th>
            <td className="figure">
              <b>{length(order.length_m ?? order.at_least_m, 0)}</b>
            </td>
            <td colSpan={2}>
              {order.lacks.map((words) => (
                <span key={words} className="fit-lack">
                  {sayWith`${<FindingMark shape="gap" />} Not on record: ${<Said text={words} records={[]} />}`}
                </span>
              ))}
            </td>
          </tr>
        </tbody>
      </table>
    </section>
  );
}

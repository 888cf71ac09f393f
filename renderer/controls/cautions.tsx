/** Cautions for whoever goes there, each behind its triangle. */
import { FindingMark } from "../drawing/findings.tsx";
import { unbroken } from "./unbroken.tsx";

export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  return cautions.map((caution) => (
    <p key={caution} className="caution-line">
      <FindingMark shape="caution" />
      <span>{unbroken(caution)}</span>
    </p>
  ));
}

/** Parts of the leaf: the record pointed at, its facts, and what its numbers rest on. */
import type { ReactNode } from "react";

export function LeafHead({ tag, children }: { readonly tag: ReactNode; readonly children?: ReactNode }) {
  return (
    <header className="leaf-head">
      <h2>{tag}</h2>
      {children ? <p>{children}</p> : null}
    </header>
  );
}

export function LeafPart({ title, children }: { readonly title?: string; readonly children: ReactNode }) {
  return (
    <section className="leaf-part">
      {title ? <h3>{title}</h3> : null}
      {children}
    </section>
  );
}

/** Facts, each with its name. */
export const Facts = ({ children }: { readonly children: ReactNode }) => <dl className="facts">{children}</dl>;

/** One fact; without a value it is left out, so say "not given" where that matters. */
export function Fact({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  if (children === null || children === undefined || children === "") return null;
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

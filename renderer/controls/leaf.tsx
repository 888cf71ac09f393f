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

/** Facts as name and value; those without a value are left out, so say "not given" where that matters. */
export function Facts({ facts }: { readonly facts: readonly (readonly [string, ReactNode])[] }) {
  return (
    <dl className="facts">
      {facts
        .filter(([, value]) => value !== null && value !== undefined && value !== "")
        .map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
    </dl>
  );
}

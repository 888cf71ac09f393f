/** The heads of a table's columns, each by its own words. */
import { unbroken } from "./unbroken.tsx";

export function Heads({ of }: { readonly of: readonly string[] }) {
  return (
    <thead>
      <tr>
        {of.map((head) => (
          <th key={head} scope="col">
            {unbroken(head)}
          </th>
        ))}
      </tr>
    </thead>
  );
}

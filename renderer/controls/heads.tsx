/** The heads of a table's columns, each by its own words. */
export function Heads({ of }: { readonly of: readonly string[] }) {
  return (
    <thead>
      <tr>
        {of.map((head) => (
          <th key={head} scope="col">
            {head}
          </th>
        ))}
      </tr>
    </thead>
  );
}

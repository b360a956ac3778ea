/** The headings of a table of numbers. */

/** @param first heading of what each row is about @param numbers headings of the columns of numbers */
export function TableHead({ first, numbers }: { readonly first: string; readonly numbers: readonly string[] }) {
  return (
    <thead>
      <tr>
        <th scope="col">{first}</th>
        {numbers.map((heading) => (
          <th key={heading} scope="col" className="number">
            {heading}
          </th>
        ))}
      </tr>
    </thead>
  );
}

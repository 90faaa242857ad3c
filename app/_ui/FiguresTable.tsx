import { ScrollRegion } from "./ScrollRegion";

/** The figures behind a drawing, formatted for the reader. */
export interface Figures {
  caption: string;
  head: readonly { label: string; unit?: string; align?: "start" | "end" }[];
  /** The first cell of a row names it. */
  rows: readonly (readonly string[])[];
}

/** Table equivalent of a drawing: nothing that is drawn is only drawn. */
export function FiguresTable({ figures }: { figures: Figures }) {
  const { caption, head, rows } = figures;
  return (
    <ScrollRegion label={caption} className="ui-figures">
      <table className="ui-facts">
        <caption>{caption}</caption>
        <thead>
          <tr>
            {head.map((cell) => (
              <th key={cell.label} scope="col" data-align={cell.align}>
                {cell.label}
                {cell.unit ? <span className="ui-unit"> {cell.unit}</span> : null}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, at) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: rows have no other name and never move
            <tr key={at}>
              {row.map((text, i) => {
                const Cell = i === 0 ? "th" : "td";
                return (
                  // biome-ignore lint/suspicious/noArrayIndexKey: columns never move
                  <Cell key={i} scope={i === 0 ? "row" : undefined} data-align={head[i]?.align}>
                    {text}
                  </Cell>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

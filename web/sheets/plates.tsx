import { isProcessInk, type ReportSeparation } from '../../src/model/index.ts';
import { Table } from '../pieces/table.tsx';
import { words } from '../words/index.ts';

const said = words.sheets;

/** Every plate of the sheets with its ink, its hash and what was seen of it. */
export function Plates({ separations }: { readonly separations: readonly ReportSeparation[] }) {
  const spots = [...new Set(separations.map(({ ink }) => ink).filter((ink) => !isProcessInk(ink)))];
  return (
    <section className="section" aria-labelledby="plates">
      <h2 id="plates">{said.plates}</h2>
      <p className="soft">{said.platesSay}</p>
      {spots.length > 0 && <p>{said.spots(spots)}</p>}
      <Table name={said.plates} heads={said.plateHeads}>
        {separations.map((plate) => (
          <tr key={`${plate.sheet} ${plate.side} ${plate.file}`}>
            <td>{said.side(plate.sheet, plate.side)}</td>
            <th scope="row">{said.ink(plate.ink)}</th>
            <td className="plate-file">
              <span className="file-name">{plate.file}</span>
              <br />
              <code className="small">{plate.sha256}</code>
            </td>
            <td>{said.plateSize(plate)}</td>
            <td>{said.covered(plate)}</td>
            <td>{said.screen(plate)}</td>
          </tr>
        ))}
      </Table>
    </section>
  );
}

import { all, call } from '../api.js';
import { day } from '../figures.js';
import { Shown } from '../loading.js';
import { useData } from '../use-data.js';
import type { Site } from './programme.js';

interface StockLine {
  material: string;
  name: string;
  countedAt: string;
  countedDaysAgo: number;
  leftKg: number | null;
  leftL: number | null;
  usedBeyondCountKg: number;
  measure: { container: string; volumeL: number } | null;
  text: string;
}

interface Recipe {
  id: string;
  name: string;
  basis: 'mass' | 'volume';
  parts: { material: string; parts: number; fromDropOffs: boolean }[];
  note: string | null;
  retired: boolean;
}

interface Wanted {
  text: string[];
  notes: string[];
}

interface AtYard {
  stock: StockLine[];
  recipes: Recipe[];
  wanted: Wanted;
  names: Map<string, string>;
}

async function load(siteId: string): Promise<AtYard> {
  const [stock, recipes, wanted, materials] = await Promise.all([
    call<{ items: StockLine[] }>('GET', `/sites/${siteId}/stock`),
    all<Recipe>(`/recipes?siteId=${siteId}`),
    call<Wanted>('GET', `/sites/${siteId}/wanted`),
    all<{ code: string; name: string }>('/materials'),
  ]);
  return {
    ...{ stock: stock.items, wanted },
    recipes: recipes.filter(({ retired }) => !retired),
    names: new Map(materials.map(({ code, name }) => [code, name])),
  };
}

/** What a yard mixes with: what lies there, how it is usually mixed, and what is to be asked for. */
export function YardMixing({ site }: { site: Site }) {
  const yard = useData(site.id, () => load(site.id));
  return (
    <Shown of={yard}>
      {({ stock, recipes, wanted, names }) => (
        <>
          <Stock lines={stock} timeZone={site.timeZone} />
          <Recipes recipes={recipes} names={names} />
          <Asks wanted={wanted} />
        </>
      )}
    </Shown>
  );
}

function Stock({ lines, timeZone }: { lines: readonly StockLine[]; timeZone: string }) {
  return (
    <section>
      <h2>What lies here to mix in</h2>
      {lines.length === 0 ? (
        <p>Nothing has been counted yet.</p>
      ) : (
        <table>
          <thead>
            <tr>
              <th scope="col">Material</th>
              <th scope="col">Left</th>
              <th scope="col">Counted</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <tr key={line.material}>
                <th scope="row">{line.name}</th>
                <td>
                  {amountOf(line)}
                  {needsWords(line) && <div class="faint">{line.text}</div>}
                </td>
                <td>
                  {ageOf(line)}
                  <div class="faint">{day(line.countedAt, timeZone)}</div>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

/** "209 kg, 882 L: 9.7 × barrow". */
function amountOf({ leftKg, leftL, measure }: StockLine): string {
  if (leftKg === 0 || leftL === 0) return 'none';
  const amounts = [
    ...(leftKg === null ? [] : [`${rounded(leftKg)} kg`]),
    ...(leftL === null ? [] : [`${rounded(leftL)} L`]),
  ];
  if (amounts.length === 0) return 'not known';
  const times = measure && leftL !== null ? leftL / measure.volumeL : null;
  return `${amounts.join(', ')}${measure && times !== null ? `: ${times.toFixed(1)} × ${measure.container}` : ''}`;
}

/** Nobody counted to the gram: a tenth up to ten, whole figures above. */
const rounded = (figure: number): string =>
  figure < 10 ? String(Math.round(figure * 10) / 10) : String(Math.round(figure));

const needsWords = ({ leftKg, usedBeyondCountKg }: StockLine): boolean =>
  leftKg === null || usedBeyondCountKg > 0;

function ageOf({ countedDaysAgo }: StockLine): string {
  if (countedDaysAgo === 0) return 'today';
  return countedDaysAgo === 1 ? 'yesterday' : `${countedDaysAgo} days ago`;
}

function Recipes({ recipes, names }: { recipes: readonly Recipe[]; names: ReadonlyMap<string, string> }) {
  return (
    <section>
      <h2>How it is usually mixed</h2>
      {recipes.length === 0 && <p>No recipe is kept of this yard.</p>}
      {recipes.map(({ id, name, basis, parts, note }) => (
        <div key={id}>
          <h3>
            {name} <small>in parts by {basis}</small>
          </h3>
          <ul>
            {parts.map(({ material, parts: many, fromDropOffs }) => (
              <li key={material}>
                {many} {many === 1 ? 'part' : 'parts'}: {names.get(material) ?? material}
                {fromDropOffs && ' (from the drop-offs)'}
              </li>
            ))}
          </ul>
          {note !== null && <p class="faint">{note}</p>}
        </div>
      ))}
    </section>
  );
}

function Asks({ wanted: { text, notes } }: { wanted: Wanted }) {
  return (
    <section>
      <h2>What to ask donors for</h2>
      {text.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {notes.length > 0 && (
        <>
          <h3>For the crew</h3>
          <ul>
            {notes.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

import { useRoute } from 'preact-iso';
import { all, call } from '../api.js';
import { day, kg } from '../figures.js';
import { Shown } from '../loading.js';
import { useSession } from '../session.js';
import { useData } from '../use-data.js';
import type { Site } from './programme.js';
import { YardMixing } from './site-mixing.js';

interface BatchRow {
  id: string;
  code: string;
  stage: string;
  method: string;
  bay: string | null;
  occurredAt: string;
}

interface DropOffRow {
  id: string;
  occurredAt: string;
  material: string;
  basis: 'scale' | 'volume';
  acceptedKg: number;
  voided: boolean;
}

const CREW = ['operator', 'manager', 'coordinator'];

/** One site: the yard as it lies, and what came in last. */
export function SitePage() {
  const { id } = useRoute().params as { id: string };
  const { person } = useSession();
  const site = useData(id, () => call<Site>('GET', `/sites/${id}`));
  const seesBatches = person.grants.some(
    ({ role, siteId }) => CREW.includes(role) && (siteId === null || siteId === id),
  );
  return (
    <Shown of={site}>
      {(value) => (
        <>
          <h1>{value.name}</h1>
          {value.runsBatches && seesBatches && <Yard site={value} />}
          {value.takesDropOffs && <Intake site={value} />}
        </>
      )}
    </Shown>
  );
}

function Yard({ site }: { site: Site }) {
  const batches = useData(site.id, () => all<BatchRow>(`/batches?siteId=${site.id}`));
  return (
    <Shown of={batches}>
      {(list) => (
        <>
          <h2>The yard as it lies</h2>
          <ol class="bays">
            {site.bays.map((bay) => (
              <BayPlace key={bay.id} code={bay.code} batch={list.find((batch) => batch.bay === bay.code)} />
            ))}
          </ol>
          <YardMixing site={site} />
          <section>
            <h2>All batches</h2>
            <table>
              <thead>
                <tr>
                  <th scope="col">Batch</th>
                  <th scope="col">Stage</th>
                  <th scope="col">Method</th>
                  <th scope="col">Begun</th>
                </tr>
              </thead>
              <tbody>
                {list.map((batch) => (
                  <tr key={batch.id}>
                    <th scope="row">
                      <a href={`/batches/${batch.id}`}>{batch.code}</a>
                    </th>
                    <td>{batch.stage}</td>
                    <td>{batch.method.replace('-', ' ')}</td>
                    <td>{day(batch.occurredAt, site.timeZone)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
        </>
      )}
    </Shown>
  );
}

function BayPlace({ code, batch }: { code: string; batch: BatchRow | undefined }) {
  return (
    <li>
      <span class="bay">{code}</span>
      {batch ? (
        <a href={`/batches/${batch.id}`}>
          {batch.code}
          <br />
          {batch.stage}
        </a>
      ) : (
        <span>empty</span>
      )}
    </li>
  );
}

function Intake({ site }: { site: Site }) {
  const lots = useData(site.id, () =>
    call<{ items: DropOffRow[] }>('GET', `/drop-offs?siteId=${site.id}&limit=30`),
  );
  return (
    <>
      <h2>Last drop-offs</h2>
      <Shown of={lots}>
        {({ items }) => (
          <table>
            <thead>
              <tr>
                <th scope="col">When</th>
                <th scope="col">What</th>
                <th scope="col" class="figure">
                  Accepted, kg
                </th>
                <th scope="col">How known</th>
              </tr>
            </thead>
            <tbody>
              {items.map((lot) => (
                <tr key={lot.id}>
                  <td>{day(lot.occurredAt, site.timeZone)}</td>
                  <td>{lot.material}</td>
                  <td class="figure">{lot.voided ? 'void' : kg(lot.acceptedKg)}</td>
                  <td>{lot.basis === 'scale' ? 'weighed' : 'estimated by volume'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </Shown>
    </>
  );
}

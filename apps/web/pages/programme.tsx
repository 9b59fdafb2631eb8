import { all } from '../api.js';
import { Shown } from '../loading.js';
import { useSession } from '../session.js';
import { useData } from '../use-data.js';

export interface Site {
  id: string;
  code: string;
  name: string;
  takesDropOffs: boolean;
  runsBatches: boolean;
  timeZone: string;
  bays: { id: string; code: string }[];
}

const purpose = (site: Site) =>
  [site.takesDropOffs ? 'hub' : '', site.runsBatches ? 'yard' : ''].filter(Boolean).join(' and ');

/** The sites one works at. */
export function ProgrammePage() {
  const { person } = useSession();
  const readerOnly = person.grants.every((grant) => grant.role === 'municipal-reader');
  if (readerOnly) return <ReaderPage />;
  return <SiteList />;
}

function SiteList() {
  const sites = useData('sites', () => all<Site>('/sites'));
  return (
    <>
      <h1>Sites</h1>
      <Shown of={sites}>
        {(list) => (
          <ul class="slips">
            {list.map((site) => (
              <li key={site.id}>
                <a href={`/sites/${site.id}`}>
                  <strong>{site.name}</strong>
                  <span>
                    {site.code}, {purpose(site)}
                  </span>
                </a>
              </li>
            ))}
          </ul>
        )}
      </Shown>
    </>
  );
}

function ReaderPage() {
  return (
    <>
      <h1>Issued reports</h1>
      <p>
        Heapwright does not issue reports yet, so there is nothing here to read. Whoever hands you a batch
        record can show you its seal; the API says whether it still holds.
      </p>
    </>
  );
}

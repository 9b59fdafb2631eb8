import { render } from 'preact';
import { ErrorBoundary, LocationProvider, Route, Router } from 'preact-iso';
import { Frame } from './frame.js';
import { BatchPage } from './pages/batch.js';
import { NotHere } from './pages/not-here.js';
import { ProgrammePage } from './pages/programme.js';
import { RecordPage } from './pages/record.js';
import { SessionProvider } from './session.js';
import { SitePage } from './pages/site.js';
import './style.css';

const root = document.getElementById('app');
if (!root) throw new Error('index.html has no #app');

/** Pages of the crew, behind the sign-in. */
const crewPages = () => (
  <SessionProvider>
    <Frame>
      <ErrorBoundary>
        <Router>
          <Route path="/" component={ProgrammePage} />
          <Route path="/sites/:id" component={SitePage} />
          <Route path="/batches/:id" component={BatchPage} />
          <Route default component={NotHere} />
        </Router>
      </ErrorBoundary>
    </Frame>
  </SessionProvider>
);

/** What the code on a label leads to: anybody may read it, so nobody is asked who they are. */
const publicPages = () => (
  <ErrorBoundary>
    <Router>
      <Route path="/record/:seal" component={RecordPage} />
      <Route default component={NotHere} />
    </Router>
  </ErrorBoundary>
);

const isPublic = location.pathname.startsWith('/record/');
render(<LocationProvider>{isPublic ? publicPages() : crewPages()}</LocationProvider>, root);

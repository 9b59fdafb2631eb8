import { type ComponentChildren, createContext } from 'preact';
import { useContext, useEffect, useState } from 'preact/hooks';
import { call, Refusal } from './api.js';
import { SignIn } from './pages/sign-in.js';

export interface Person {
  id: string;
  displayName: string;
  grants: { role: string; siteId: string | null; jurisdictionId: string | null }[];
}

interface Session {
  person: Person;
  signOut: () => void;
}

const Context = createContext<Session | null>(null);

export function useSession(): Session {
  const session = useContext(Context);
  if (!session) throw new Error('used outside a session');
  return session;
}

type State =
  { state: 'asking' } | { state: 'out' } | { state: 'unreached' } | { state: 'in'; person: Person };

/** Asks the server who is signed in, and shows the sign-in page to nobody in particular. */
export function SessionProvider({ children }: { children: ComponentChildren }) {
  const [state, setState] = useState<State>({ state: 'asking' });
  const ask = () => {
    call<Person>('GET', '/people/me').then(
      (person) => setState({ state: 'in', person }),
      (error: unknown) => setState({ state: error instanceof Refusal ? 'out' : 'unreached' }),
    );
  };
  useEffect(ask, []);
  if (state.state === 'asking') return <p role="status">Loading…</p>;
  if (state.state === 'unreached')
    return <p role="alert">The server does not answer. Try again in a moment.</p>;
  if (state.state === 'out') return <SignIn onDone={ask} />;
  const signOut = () => {
    void call('DELETE', '/sessions/current').finally(() => setState({ state: 'out' }));
  };
  return <Context.Provider value={{ person: state.person, signOut }}>{children}</Context.Provider>;
}

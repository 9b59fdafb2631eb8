import type { ComponentChildren } from 'preact';
import { useSession } from './session.js';

export function Frame({ children }: { children: ComponentChildren }) {
  const { person, signOut } = useSession();
  return (
    <>
      <header class="top">
        <a href="/">Heapwright</a>
        <span>{person.displayName}</span>
        <button type="button" onClick={signOut}>
          Sign out
        </button>
      </header>
      <main>{children}</main>
      <footer>
        <p>The local permit and authority decide. These pages show what was recorded.</p>
        <p>
          {/* Another server-side page: not one of the pages' own routes. */}
          <a href="/api/docs" target="_blank" rel="noreferrer">
            API
          </a>
        </p>
      </footer>
    </>
  );
}

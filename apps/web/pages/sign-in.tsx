import { useState } from 'preact/hooks';
import { call } from '../api.js';

export function SignIn({ onDone }: { onDone: () => void }) {
  const [reason, setReason] = useState<string | null>(null);
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    const body = { email: form.get('email'), password: form.get('password') };
    call('POST', '/sessions', body).then(onDone, (error: unknown) => setReason((error as Error).message));
  };
  return (
    <main class="narrow">
      <h1>Heapwright</h1>
      <p>The operating records of a community composting programme.</p>
      <form onSubmit={submit}>
        <label>
          E-mail
          <input name="email" type="email" autocomplete="username" required />
        </label>
        <label>
          Password
          <input name="password" type="password" autocomplete="current-password" required />
        </label>
        {reason && <p role="alert">{reason}</p>}
        <button type="submit">Sign in</button>
      </form>
    </main>
  );
}

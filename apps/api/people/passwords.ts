import { hash, verify } from '@node-rs/argon2';

// argon2id with the library's defaults, which follow RFC 9106's second recommended set in kind
// (19 MiB, two passes, one lane: the OWASP minimum).
const stand = hash('nobody has this password');

export function hashPassword(password: string): Promise<string> {
  return hash(password);
}

/** Takes as long for an unknown account as for a wrong password, so that time does not tell which it was. */
export async function passwordFits(password: string, kept: string | null): Promise<boolean> {
  const fits = await verify(kept ?? (await stand), password);
  return kept !== null && fits;
}

import { type Algorithm, hash, verify } from '@node-rs/argon2';

// argon2id with 19 MiB, two passes and one lane: a setting that the OWASP Password Storage Cheat Sheet recommends, from
// memory. The library's own defaults may change; what is kept tells with which parameters it was made.
const parameters = {
  algorithm: 2 satisfies Algorithm.Argon2id,
  memoryCost: 19_456,
  timeCost: 2,
  parallelism: 1,
};

const stand = hashPassword('nobody has this password');

export function hashPassword(password: string): Promise<string> {
  return hash(password, parameters);
}

/** Takes as long for an unknown account as for a wrong password, so that time does not tell which it was. */
export async function passwordFits(password: string, kept: string | null): Promise<boolean> {
  const fits = await verify(kept ?? (await stand), password);
  return kept !== null && fits;
}

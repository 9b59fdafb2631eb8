import { Database } from '#libs/database';

/** True while nobody is in it: every record names the person who made it, so then there is nothing else either. */
export async function isEmpty(databaseUrl: string): Promise<boolean> {
  const database = new Database({ url: databaseUrl, max: 1 });
  try {
    return (await database.prisma.person.count()) === 0;
  } finally {
    await database.close();
  }
}

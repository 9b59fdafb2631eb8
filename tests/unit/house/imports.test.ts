import { mkdtemp, mkdir, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { cruise, type ICruiseOptions, type ICruiseResult, type IForbiddenRuleType } from 'dependency-cruiser';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

/** One bad import for every rule of .dependency-cruiser.cjs: a rule that catches nothing is no rule. */
const planted: Record<string, { file: string; text: string; beside?: Record<string, string> }> = {
  'no-circle': {
    file: 'libs/process/a.ts',
    text: "import './b.js'; export const a = 1;",
    beside: { 'libs/process/b.ts': "import './a.js'; export const b = 1;" },
  },
  'libs-know-no-app': { file: 'libs/process/c.ts', text: "import '../../apps/api/http/clock.js';" },
  'libs-know-no-http': { file: 'libs/process/d.ts', text: "import '@nestjs/common';" },
  'quantities-stand-alone': { file: 'libs/quantities/e.ts', text: "import '../process/rule.js';" },
  'middle-libs-use-quantities-only': { file: 'libs/materials/f.ts', text: "import '../process/rule.js';" },
  'database-stands-alone': { file: 'libs/database/g.ts', text: "import '../quantities/mass.js';" },
  'libs-do-not-use-the-database': { file: 'libs/process/h.ts', text: "import '../database/pool.js';" },
  'sql-lives-in-records': {
    file: 'apps/api/intake/i.service.ts',
    text: "import '../../../libs/database/pool.js';",
  },
  'areas-meet-at-services': { file: 'apps/api/intake/j.ts', text: "import '../people/people.records.js';" },
  'http-knows-no-area': { file: 'apps/api/http/k.ts', text: "import '../people/people.records.js';" },
  'pg-and-prisma-in-the-database-lib-only': { file: 'apps/api/intake/l.records.ts', text: "import 'pg';" },
};

const real: Record<string, string> = {
  'apps/api/http/clock.ts': 'export const clock = 1;',
  'apps/api/people/people.records.ts': 'export const records = 1;',
  'libs/process/rule.ts': 'export const rule = 1;',
  'libs/quantities/mass.ts': 'export const mass = 1;',
  'libs/database/pool.ts': 'export const pool = 1;',
};

interface Rules {
  forbidden: IForbiddenRuleType[];
  options: ICruiseOptions & { tsConfig: unknown };
}

const rules = createRequire(import.meta.url)('../../../.dependency-cruiser.cjs') as Rules;

describe('the arrows of the house', () => {
  let folder: string;
  let found: Map<string, string[]>;

  beforeAll(async () => {
    const scratch = join(process.cwd(), '.data');
    await mkdir(scratch, { recursive: true });
    folder = await mkdtemp(join(scratch, 'house-'));
    const files = { ...real };
    for (const { file, text, beside } of Object.values(planted))
      Object.assign(files, { [file]: text }, beside);
    for (const [path, text] of Object.entries(files)) {
      await mkdir(join(folder, path, '..'), { recursive: true });
      await writeFile(join(folder, path), text);
    }
    await writeFile(join(folder, 'package.json'), '{"type":"module"}');
    const { tsConfig: _, ...withoutTypes } = rules.options;
    const result = await cruise(['apps', 'libs'], {
      ...withoutTypes,
      baseDir: folder,
      validate: true,
      ruleSet: { forbidden: rules.forbidden },
    });
    const { violations } = (result.output as ICruiseResult).summary;
    found = new Map();
    for (const { rule, from } of violations) found.set(rule.name, [...(found.get(rule.name) ?? []), from]);
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it('has a planted import for every rule', () => {
    expect(Object.keys(planted).sort()).toEqual(rules.forbidden.map((rule) => rule.name ?? '').sort());
  });

  it.each(Object.entries(planted))('%s catches what it forbids', (rule, { file }) => {
    expect(found.get(rule)).toContain(file);
  });
});

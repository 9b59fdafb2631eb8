import { Injectable } from '@nestjs/common';
import { processRule, processRules, type BatchMethod, type ProcessRule } from '#libs/process';
import type { Actor } from '../http/access/actor.js';
import { invalid, notFound, Problem, type ProblemCode } from '../http/problems/catalogue.js';
import { type SqlWrite, Work } from '../http/writes/work.js';
import { definitionOf, enteredOf, ruleView } from './process-rule-terms.js';
import type {
  NewProcessRuleDto,
  ProcessRuleDto,
  ProcessRuleListDto,
  ProcessRuleTermsDto,
} from './process-rules.dto.js';
import { ProcessRulesRecords } from './process-rules.records.js';
import { differences } from '../http/writes/setting-work.js';

type Sql = SqlWrite['sql'];

/**
 * The process rules of the library and those of the programme's own. Where both have a code, the programme's goes
 * first: a library that grows takes no rule away from the batches that began under it.
 */
@Injectable()
export class ProcessRulesService {
  constructor(
    private readonly work: Work,
    private readonly kept: ProcessRulesRecords,
  ) {}

  /** The library's in its order, then the programme's by code, each in its latest version. */
  async list(): Promise<ProcessRuleListDto> {
    const local = await this.kept.asOf(null, null);
    const own = new Set(local.map(({ rule }) => rule.code));
    const library = processRules.filter(({ code }) => !own.has(code));
    return {
      items: [...library.map((rule) => ruleView(rule, null)), ...local.map((one) => ruleView(one.rule, one))],
    };
  }

  /** The latest version, or the one asked for. */
  async get(code: string, version?: number): Promise<ProcessRuleDto> {
    const local =
      version === undefined
        ? (await this.kept.asOf([code], null))[0]
        : await this.kept.version(code, version);
    if (local) return ruleView(local.rule, local);
    const rule = processRule(code);
    if (!rule || (version !== undefined && version !== rule.version)) throw notFound('process rule');
    return ruleView(rule, null);
  }

  async create(actor: Actor, terms: NewProcessRuleDto): Promise<ProcessRuleDto> {
    const { code } = terms;
    if (processRule(code)) throw new Problem('taken', 'The library has a rule of that code.');
    return this.insert(actor, { ...definitionOf(terms), code, version: 1 }, terms, 'taken', null);
  }

  /** The next version of a rule of the programme's own; `latest` is the one it was made from. */
  async amend(
    actor: Actor,
    code: string,
    latest: number,
    terms: ProcessRuleTermsDto,
  ): Promise<ProcessRuleDto> {
    const [before] = await this.kept.asOf([code], null);
    if (!before && processRule(code))
      throw new Problem('conflict', 'A rule of the library has no local versions.');
    if (!before) throw notFound('process rule');
    if (before.rule.version !== latest) throw new Problem('changed-meanwhile');
    const rule = { ...definitionOf(terms), code, version: latest + 1 };
    return this.insert(actor, rule, terms, 'changed-meanwhile', ruleView(before.rule, before));
  }

  private async insert(
    actor: Actor,
    rule: ProcessRule,
    terms: ProcessRuleTermsDto,
    otherwise: ProblemCode,
    before: ProcessRuleDto | null,
  ): Promise<ProcessRuleDto> {
    return this.work.writeSql(actor, async (write) => {
      const kept = await this.kept.insert(write.sql, rule, enteredOf(terms), actor.personId);
      if (!kept) throw new Problem(otherwise);
      const added = ruleView(kept.rule, kept);
      const detail = before ? differences(before, added) : { added };
      write.audit({
        action: before ? 'process-rule.changed' : 'process-rule.added',
        ...{ subjectKind: 'process-rule', subjectId: rule.code, siteId: null },
        detail: { ...detail, version: rule.version },
      });
      return added;
    });
  }

  /** The rule as it stood at a time, which is how a batch keeps the one it began under; its latest version without one. */
  async find(code: string, at: Date | null = null, sql?: Sql): Promise<ProcessRule | undefined> {
    const [local] = await this.kept.asOf([code], at, sql);
    return local?.rule ?? processRule(code);
  }

  async findVersion(code: string, version: number, sql?: Sql): Promise<ProcessRule | undefined> {
    const local = await this.kept.version(code, version, sql);
    if (local) return local.rule;
    const rule = processRule(code);
    return rule?.version === version ? rule : undefined;
  }

  /** Every rule for a method, the programme's own as they stood at a time. */
  async forMethod(method: BatchMethod, at: Date, sql?: Sql): Promise<ProcessRule[]> {
    const local = (await this.kept.asOf(null, at, sql)).map(({ rule }) => rule);
    const own = new Set(local.map(({ code }) => code));
    return [...processRules.filter(({ code }) => !own.has(code)), ...local].filter(({ methods }) =>
      methods.includes(method),
    );
  }

  /** Refuses (422) at `pointer` a code that nobody knows. */
  async require(code: string, pointer: string, at: Date | null = null, sql?: Sql): Promise<ProcessRule> {
    const rule = await this.find(code, at, sql);
    if (!rule) throw invalid(pointer, `"${code}" is no process rule that is known here`);
    return rule;
  }
}

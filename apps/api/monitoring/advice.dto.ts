import { type SourceStatus, sourceStatuses, urgencies, type Urgency } from '#libs/process';
import { Instant, ListOf, Nested, OneOf, Text, TextList } from '../http/dto/fields.js';

export class AdviceSourceDto {
  @Text(200) title!: string;
  @OneOf(sourceStatuses, {
    description:
      'How far it was read; `common-practice` where nothing published says so, `local` what the permit asks for',
  })
  status!: SourceStatus;
}

export class CautionDto {
  @Text(60, { example: 'spores' }) key!: string;
  @Text(400) text!: string;
  @Nested(() => AdviceSourceDto) source!: AdviceSourceDto;
}

export class LikelyCauseDto {
  @Text(60, { example: 'dry' }) key!: string;
  @Text(400) text!: string;
  @Text(400, { nullable: true, description: 'What in the records speaks for it' }) seen!: string | null;
  @Nested(() => AdviceSourceDto) source!: AdviceSourceDto;
}

export class AdvisedActionDto {
  @Text(60, { example: 'water' }) key!: string;
  @Text(400) text!: string;
  @ListOf(() => CautionDto, 20, { description: 'Where somebody can be hurt, or a count undone' })
  cautions!: CautionDto[];
  @Nested(() => AdviceSourceDto) source!: AdviceSourceDto;
}

export class AdviceDto {
  @Text(60, { example: 'not-heating' }) key!: string;
  @Text(100) title!: string;
  @OneOf(urgencies, { description: 'Before anything else today, within a day or two, or at the next check' })
  urgency!: Urgency;
  @TextList(/./s, 20, { description: 'With figures, and times at the site' }) seen!: string[];
  @Text(400, { description: 'What it is judged by' }) because!: string;
  @Nested(() => AdviceSourceDto) source!: AdviceSourceDto;
  @ListOf(() => LikelyCauseDto, 20, { description: 'Those that the records speak for come first' })
  causes!: LikelyCauseDto[];
  @ListOf(() => AdvisedActionDto, 40, { description: 'In the order in which they are tried' })
  actions!: AdvisedActionDto[];
}

export class BatchAdviceDto {
  @Instant() asOf!: string;
  @ListOf(() => AdviceDto, 30, { description: 'The most urgent first; empty where nothing calls for it' })
  advice!: AdviceDto[];
  @TextList(/./s, 10) notes!: string[];
}

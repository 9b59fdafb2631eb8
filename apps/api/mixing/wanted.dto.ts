import type { AdditionsAnswer } from '#libs/materials';
import {
  Instant,
  ListOf,
  MaterialCode,
  Nested,
  Num,
  OneOf,
  SENTENCE,
  Text,
  TextList,
  Uuid,
  Whole,
} from '../http/dto/fields.js';
import { additionsStates } from './additions.dto.js';
import { InContainersDto } from './recipe-use.dto.js';

const MOST = 1e12;
const MOST_BATCHES = 1000;
const STATES = additionsStates.filter((state) => state !== 'closed');

export class BatchServedDto {
  @Uuid() id!: string;
  @Text(40) code!: string;
  @OneOf(STATES, {
    description: '`found`: the stock that the batches before it leave is enough; `impossible`: it is not',
  })
  state!: AdditionsAnswer['state'];
}

export class WantedMaterialDto {
  @MaterialCode() material!: string;
  @Text(120) name!: string;
  @Num(0, MOST) massKg!: number;
  @Num(0, MOST, { nullable: true, description: 'About; null where the density is unknown' })
  volumeL!: number | null;
  @Nested(() => InContainersDto, {
    nullable: true,
    description: 'In containers of the yard, the next half above',
  })
  measured!: InContainersDto | null;
}

export class AskDto {
  @TextList(/^.{1,40}$/, MOST_BATCHES, { description: 'Codes of the batches that it is for' })
  batches!: string[];
  @ListOf(() => WantedMaterialDto, 100, {
    description: 'Any one of these would do: what donors usually bring first, and of that the least first',
  })
  anyOf!: WantedMaterialDto[];
  @Whole(0, 100_000, { description: 'How many others would do as well' }) more!: number;
  @ListOf(() => WantedMaterialDto, 100, { description: 'Where no single one would do: all of these' })
  allOf!: WantedMaterialDto[];
}

export class WantedDto {
  @Uuid() siteId!: string;
  @Instant() asOf!: string;
  @ListOf(() => BatchServedDto, MOST_BATCHES, {
    description: 'Batches being built, as the stock is handed out',
  })
  batches!: BatchServedDto[];
  @ListOf(() => AskDto, MOST_BATCHES) asks!: AskDto[];
  @TextList(/^.{1,40}$/, MOST_BATCHES, {
    description: 'Codes of the batches that nothing listed brings into range, alone or together',
  })
  beyondHelp!: string[];
  @TextList(SENTENCE, 200, { description: 'To be read to donors' }) text!: string[];
  @TextList(SENTENCE, MOST_BATCHES, { description: 'For the crew: batches that no donor can help' })
  notes!: string[];
}

import { ApiProperty, getSchemaPath } from '@nestjs/swagger';
import { ArrayMaxSize, ArrayMinSize, IsArray } from 'class-validator';
import { Json, ListOf, Uuid, Whole } from '../http/dto/fields.js';
import type { ProblemBody } from '../http/problems/filter.js';
import { NewDropOffDto } from './drop-offs.dto.js';

export const BULK_MOST = 500;

/** The items are held against their own class one by one, so that a malformed one refuses itself and no other. */
export class BulkDto {
  @ApiProperty({
    type: 'array',
    items: { $ref: getSchemaPath(NewDropOffDto) },
    minItems: 1,
    maxItems: BULK_MOST,
  })
  @ArrayMinSize(1, { message: 'must hold at least 1' })
  @ArrayMaxSize(BULK_MOST, { message: `must hold at most ${BULK_MOST}` })
  @IsArray({ message: 'must be a list' })
  items!: unknown[];
}

export class BulkItemDto {
  @Uuid({ nullable: true, description: 'Null where none was sent and nothing was kept' }) id!: string | null;
  @Whole(200, 422, { description: '201 kept, 200 kept before, 409, 422 and 403 as a single one is answered' })
  status!: number;
  @Json({ optional: true, description: 'As a single one is refused; its pointers are into the item' })
  problem?: ProblemBody;
}

export class BulkResultDto {
  @ListOf(() => BulkItemDto, BULK_MOST, { description: 'In the order of the items' }) items!: BulkItemDto[];
}

import { Text } from './fields.js';

/** Why a record is taken back. The record itself stays, marked. */
export class VoidDto {
  @Text(400) reason!: string;
}

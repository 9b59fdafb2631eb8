import { LocalDate, Uuid } from '../http/dto/fields.js';

export class ExportQuery {
  @Uuid({ optional: true, description: 'Every site you manage, if left out' }) siteId?: string;
  @LocalDate({ optional: true, description: 'First local day' }) from?: string;
  @LocalDate({ optional: true, description: 'First local day after the last' }) to?: string;
}

import { Injectable, Logger, type OnApplicationBootstrap } from '@nestjs/common';
import { startingMaterials, startingWasteCategories } from '#libs/materials';
import { MaterialsRecords } from './materials.records.js';

/** A programme starts with a list of materials, which it then changes as it likes. */
@Injectable()
export class StartingMaterials implements OnApplicationBootstrap {
  private readonly log = new Logger('Materials');

  constructor(private readonly materials: MaterialsRecords) {}

  async onApplicationBootstrap(): Promise<void> {
    const count = await this.materials.load(startingMaterials, startingWasteCategories);
    if (count > 0) this.log.log(`loaded the starting list of ${count} materials`);
  }
}

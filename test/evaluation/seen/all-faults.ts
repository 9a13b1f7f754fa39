import { ARTWORK_FAULTS } from './artwork-faults.ts';
import { CROP_FAULTS } from './crop-faults.ts';
import { MANY_FAULTS } from './many-faults.ts';
import { PAGE_FAULTS } from './page-faults.ts';
import { PICTURE_FAULTS } from './picture-faults.ts';
import type { PlantedFault } from './planted-fault.ts';
import { RETOUCH_FAULTS } from './retouch-faults.ts';
import { TEXT_FAULTS } from './text-faults.ts';

/** Every planted fault, and the files with several. */
export const ALL_FAULTS: readonly PlantedFault[] = [
  ...PAGE_FAULTS,
  ...CROP_FAULTS,
  ...PICTURE_FAULTS,
  ...RETOUCH_FAULTS,
  ...TEXT_FAULTS,
  ...ARTWORK_FAULTS,
  ...MANY_FAULTS,
];

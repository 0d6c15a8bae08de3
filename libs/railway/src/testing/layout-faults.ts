import type { Fault } from '../faults/fault.js';
import type { LayoutFile } from '../layout/layout-file.js';
import { validateLayout } from '../layout/validate-layout.js';
import { edited } from './edit.js';
import type { Mutable } from './edit.js';
import { passingLoop } from './layout-parts.js';

export type LayoutChange = (file: Mutable<LayoutFile>) => void;

/** The faults of a layout (the passing loop, unless told) after something was changed. */
export const faultsAfter = (
  change: LayoutChange,
  file: LayoutFile = passingLoop(),
): readonly Fault[] => validateLayout(edited(file, change));

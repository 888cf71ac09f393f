/** The shapes of as-built sheets that are understood; a new one adds its line here. */
import type { Shape } from "./shape.ts";
import { cables } from "./shapes/cables.ts";
import { cords } from "./shapes/cords.ts";
import { labels } from "./shapes/labels.ts";
import { landings } from "./shapes/landings.ts";
import { measurements } from "./shapes/measurements.ts";
import { splices } from "./shapes/splices.ts";
import { usage } from "./shapes/usage.ts";

export const SHAPES: readonly Shape[] = [cables, splices, landings, cords, usage, labels, measurements];

export const SHAPE_NAMES = SHAPES.map(({ name }) => name) as [string, ...string[]];

export const shapeNamed = (name: string): Shape | undefined => SHAPES.find((shape) => shape.name === name);

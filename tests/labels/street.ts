/** A small campus to be labelled: one cable of two rooms and a hole where some of its strands branch off to a third. */
import { SETUP } from "../act/examples.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

/**
 * F-014 has 48 strands, from LIB/101 over MH-03 to SCI/B01; its strands 25-36 were cut at MH-03, and 25-34 of the half
 * from LIB/101 go on in F-021 to LIB/102. F-014 is landed at LIB/101 with 1-24, at SCI/B01 with 1-12.
 */
export async function street(): Promise<TestPlant> {
  const plant = await newPlant();
  for (const [name, input] of SETUP) await plant.run(name, input);
  const duplex = (numbers: string) => [{ numbers, connector: "lc_duplex" }];
  await plant.run("panel.enter", { tag: "S", space: "SCI/B01", ports: duplex("1..12") });
  await plant.run("strand.land", { strands: "F-014:1-10", ports: "LIB/101/A:01-05", method: "pigtail" });
  await plant.run("strand.land", { strands: "F-014:25-34#1", ports: "LIB/101/A:06-10", method: "pigtail" });
  await plant.run("strand.land", { strands: "F-014:1-10", ports: "SCI/B01/S:1-5", method: "pigtail" });
  await plant.run("splice.range", { from: "F-014:25-34#1", to: "F-021:1-10", tray: "MH-03/CL-1/T1", first_place: 3 });
  await plant.run("strand.land", { strands: "F-021:1-10", ports: "LIB/102/B:1-5", method: "pigtail" });
  return plant;
}

export interface Listed {
  readonly kind: string;
  readonly record: string;
  readonly place: string | null;
  readonly class: string;
  readonly wording: string;
  readonly says: string;
  readonly lines: readonly string[] | null;
  readonly lacks: readonly string[];
  readonly left_out: readonly string[];
  readonly on_record: { readonly printed_on: string | null } | null;
  readonly needed: string | null;
}

export const listed = async (plant: TestPlant, input: object = {}): Promise<readonly Listed[]> =>
  (await plant.run<{ labels: readonly Listed[] }>("label.list", input)).labels;

/** Who writes: asked once on this machine, when the first change is made. */
import { say } from "../../core/words/say.ts";
import { settings } from "./settings.ts";

type Ask = () => Promise<string | null>;
let ask: Ask | null = null;

/** The frame's dialog that asks for a name; null when it leaves the screen. */
export function answerForName(how: Ask | null): void {
  ask = how;
}

/** Asks for the name again, for when another person sits down here. */
export async function askNameAgain(): Promise<void> {
  const given = (await ask?.()) ?? null;
  if (given) settings.set({ person: given });
}

/** The person's name as far as it is known: nobody is asked for it to see what would be written. */
export const personSoFar = (): string => settings.get().person || say`someone not named`;

/** The person's name, asked for when it isn't known; null when they thought better of it. */
export async function personName(): Promise<string | null> {
  const { person } = settings.get();
  if (person) return person;
  const given = (await ask?.()) ?? null;
  if (given) settings.set({ person: given });
  return given;
}

/** Words for pipes. */
import { kindOf } from "../../../core/model/dictionary.ts";
import type { Pipe } from "../../../core/pathway/answer.ts";
import { asKnown } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";

const field = kindOf("conduit").fields.state;

/** As the dictionary has them. */
export const STATE_WORDS: Readonly<Record<string, string>> = field?.type === "choice" ? field.values : {};

/** "7 %": of a pipe whose sizes are not all on record it can't be told. */
export const percent = (part: number): string =>
  `${part > 0 && part < 0.095 ? (part * 100).toFixed(1) : Math.round(part * 100)}\u202f%`;

export const isEmpty = ({ occupants, pipes }: Pipe): boolean => occupants.length + pipes.length === 0;

export const fillWords = (pipe: Pipe): string =>
  isEmpty(pipe)
    ? say`empty`
    : pipe.fill === null
      ? say`fill can't be told`
      : say`${asKnown(percent(pipe.fill), !pipe.at_least)} full`;

export const tooFull = ({ fill, fill_limit }: Pipe): boolean =>
  fill !== null && fill_limit !== null && fill > fill_limit.value;

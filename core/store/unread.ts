/** Why a text can't be read as records: what it names isn't on record (`missing`), or it is written wrongly. */
export class Unread {
  /** Words that follow the record they are about. */
  readonly reason: string;
  readonly missing: boolean;
  constructor(reason: string, missing: boolean) {
    this.reason = reason;
    this.missing = missing;
  }
}

/** Numbers as people read them, the same in every language: a narrow space that does not break between thousands, a point before decimals. */

export const NARROW_SPACE = "\u202f";

/** A number with narrow spaces between thousands and at most so many decimals. */
export function formatNumber(value: number, decimals = 0): string {
  const rounded = value.toFixed(decimals);
  const [whole = "0", rest] = (Number(rounded) === 0 ? rounded.replace("-", "") : rounded).split(".");
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, NARROW_SPACE);
  const fraction = rest?.replace(/0+$/, "") ?? "";
  return fraction === "" ? grouped : `${grouped}.${fraction}`;
}

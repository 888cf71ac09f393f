/**
 * The sort key of a tag: F-2 before F-10, case and leading zeros aside. Each run of digits is written as its length and
 * its digits, so that plain text order is number order.
 */
export function naturalKey(tag: string): string {
  return tag.toLowerCase().replace(/\d+/g, (digits) => {
    const number = digits.replace(/^0+(?=\d)/, "");
    return `${length(number.length)}${number}`;
  });
}

/** 1 to 8 as they are, 9 and more as "9" and what is beyond 8: order is kept at any length. */
const length = (digits: number): string => (digits <= 8 ? String(digits) : `9${length(digits - 8)}`);

/** How much larger than 16 pixels the reader's letters are: drawings leave room for their words accordingly. */
export const textScale = (): number =>
  (Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16) / 16;

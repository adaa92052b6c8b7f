// Errors of estimates as measured, and what share of draws lies below a score.

/** Shares at which errors are tabulated. */
const TABULATED = [0.05, 0.10, 0.25, 0.50, 0.75, 0.90, 0.95];
const WIDENED = 1.15;

/** The value of a tabulated error that a share `u` lies below. */
export function errorAt(errors, u) {
  let piece = 0;
  while (piece < 5 && u >= TABULATED[piece + 1]) piece += 1;
  const low = errors[piece], high = errors[piece + 1], middle = errors[3];
  const share = (u - TABULATED[piece]) / (TABULATED[piece + 1] - TABULATED[piece]);
  return middle + WIDENED * (low + (high - low) * share - middle);
}

/** The share of the standard normal distribution below a score, straight between the strata. */
export function shareBelow(scores, score) {
  const draws = scores.length;
  let low = 0, high = draws;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (scores[middle] < score) low = middle + 1; else high = middle;
  }
  high = low < 1 ? 1 : low > draws - 1 ? draws - 1 : low;
  low = high - 1;
  const part = (score - scores[low]) / (scores[high] - scores[low]);
  const share = (low + 0.5) / draws + part / draws;
  const least = 0.5 / draws * 0.5;
  return share < least ? least : share > 1 - least ? 1 - least : share;
}

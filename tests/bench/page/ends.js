// The 5th and the 95th percentile of what is a number among the values, straight between
// neighbours: position share x (count - 1).
const SHARES = [0.05, 0.95];
/** Boxes that values are counted in before the few around a percentile are looked at. */
const BOXES = 256;

export class Ends {
  constructor(draws) {
    this.work = new Float64Array(draws);
    this.near = new Float64Array(draws);
    this.boxes = new Uint8Array(draws);
    this.counts = new Int32Array(BOXES);
  }

  /** Writes both ends of a column into a place. */
  of(column, into, at) {
    const { work } = this;
    const { length } = column;
    let least = Infinity, most = -Infinity, count = 0;
    for (let index = 0; index < length; index += 1) {
      const value = column[index];
      if (value - value === 0) {
        work[count] = value;
        count += 1;
        if (value < least) least = value;
        if (value > most) most = value;
      }
    }
    const scale = (BOXES - 1) / (most - least);
    if (!(scale < Infinity)) {
      into[at] = into[at + 1] = count === 0 ? NaN : least;
      return;
    }
    const { boxes, counts } = this;
    counts.fill(0);
    for (let index = 0; index < count; index += 1) {
      const box = ((work[index] - least) * scale) | 0;
      boxes[index] = box;
      counts[box] += 1;
    }
    into[at] = this.percentile(count, SHARES[0]);
    into[at + 1] = this.percentile(count, SHARES[1]);
  }

  percentile(count, share) {
    const { work, near, boxes, counts } = this;
    const position = share * (count - 1), below = Math.floor(position), part = position - below;
    // The boxes of the neighbours below and above.
    let before = 0, first = 0;
    while (before + counts[first] <= below) {
      before += counts[first];
      first += 1;
    }
    let reached = before + counts[first], last = first;
    while (reached <= below + 1 && last + 1 < BOXES) {
      last += 1;
      reached += counts[last];
    }
    let found = 0;
    for (let index = 0; index < count; index += 1) {
      const box = boxes[index];
      if (box >= first && box <= last) {
        near[found] = work[index];
        found += 1;
      }
    }
    const place = below - before, value = select(near, found, place);
    let next = Infinity;
    for (let index = place + 1; index < found; index += 1) {
      if (near[index] < next) next = near[index];
    }
    return part > 0 && next < Infinity ? value + part * (next - value) : value;
  }
}

/** The value at a place of the sorted order: Hoare's selection, with the median of three. */
function select(values, count, place) {
  let from = 0, to = count - 1;
  while (from < to) {
    const first = values[from], last = values[to], middle = values[(from + to) >> 1];
    const one = first < last ? first : last, other = first < last ? last : first;
    const pivot = middle < one ? one : middle > other ? other : middle;
    let left = from, right = to;
    for (;;) {
      while (values[left] < pivot) left += 1;
      while (values[right] > pivot) right -= 1;
      if (left >= right) break;
      const swapped = values[left];
      values[left] = values[right];
      values[right] = swapped;
      left += 1;
      right -= 1;
    }
    if (place <= right && right < to) to = right;
    else if (place >= left && left > from) from = left;
    else break;
  }
  return values[place];
}

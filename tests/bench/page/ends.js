// The 5th and the 95th percentile of what is a number among the values.
export class Ends {
  constructor(draws) {
    this.work = new Float64Array(draws);
  }

  /** Writes both ends of a column into a place. */
  of(column, into, at) {
    this.work.set(column);
    this.ofWork(column.length, into, at);
  }

  /** The same of so many values that already stand in `work`. */
  ofWork(length, into, at) {
    const { work } = this;
    let count = 0, same = true;
    for (let index = 0; index < length; index += 1) {
      const value = work[index];
      if (value - value === 0) {
        work[count] = value;
        if (value !== work[0]) same = false;
        count += 1;
      }
    }
    if (count === 0 || same) {
      into[at] = into[at + 1] = count === 0 ? NaN : work[0];
      return;
    }
    into[at] = percentile(work, count, 0.05);
    into[at + 1] = percentile(work, count, 0.95);
  }
}

/** Straight between neighbours; position share x (count - 1). */
function percentile(values, count, share) {
  const position = share * (count - 1), below = Math.floor(position), part = position - below;
  const value = select(values, count, below);
  let next = Infinity;
  for (let index = below + 1; index < count; index += 1) {
    if (values[index] < next) next = values[index];
  }
  return part > 0 && next < Infinity ? value + part * (next - value) : value;
}

/** Hoare's selection, with the median of three. */
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

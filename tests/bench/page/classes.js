// The texture classes, in the order of the core.
export const CLASSES = ['sand', 'loamy_sand', 'sandy_loam', 'loam', 'silt_loam', 'silt',
  'sandy_clay_loam', 'clay_loam', 'silty_clay_loam', 'sandy_clay', 'silty_clay', 'clay'];

/** Place of the class of silt and clay in percent, judged to a thousandth. */
export function classify(silt, clay) {
  const z = Math.round(silt * 1000), c = Math.round(clay * 1000), s = 100000 - z - c;
  if (z + 1.5 * c < 15000) return 0;
  if (z + 2 * c < 30000) return 1;
  if (c >= 40000) return z >= 40000 ? 10 : s <= 45000 ? 11 : 9;
  if (c >= 35000 && s > 45000) return 9;
  if (c >= 27000 && s <= 45000) return s <= 20000 ? 8 : 7;
  if (c >= 20000 && z < 28000 && s > 45000) return 6;
  if (z >= 80000 && c < 12000) return 5;
  if (z >= 50000) return 4;
  return c >= 7000 && z >= 28000 && s <= 52000 ? 3 : 2;
}

/** Least, usual and greatest: of what goes in the 10th and 90th percentile, of what comes out the 5th
 *  and 95th. */
export interface Range { low: number; typical: number; high: number; }
/** A number that is exact, or a range. */
export type Figure = number | Range;

export type MassUnit = "g" | "kg" | "t" | "lb" | "oz" | "ton_us";
export type VolumeUnit = "mL" | "L" | "m3" | "gal" | "gal_imp" | "qt_dry" | "qt_liquid" | "fl_oz" | "ft3" | "yd3" | "bu" | "cup";
export type LengthUnit = "mm" | "cm" | "m" | "in" | "ft";
export type AreaUnit = "m2" | "ft2" | "acre";
export type RateUnit = "lb/100ft2" | "lb/1000ft2" | "kg/m2" | "g/m2" | "g/L";
export type ShareUnit = "%v" | "%m" | "part" | "bag";
export interface Mass { value: number; unit: MassUnit; }
export interface Volume { value: number; unit: VolumeUnit; }
export interface Length { value: number; unit: LengthUnit; }
export interface Area { value: number; unit: AreaUnit; }
export interface MassOrVolume { value: number; unit: MassUnit | VolumeUnit; }
export interface Amount { value: number; unit: MassUnit | VolumeUnit | LengthUnit | RateUnit | ShareUnit; }

/** What goes in: ground, what is added, where it goes. */
export interface Recipe {
  /** The version of the document. */
  barrowmix: 1;
  title?: string;
  ground: Ground;
  soil: MassOrVolume | Bed;
  parts_of_soil?: number;
  additions?: Addition[];
  place?: Place;
  measured?: Measured;
  currency?: string;
  /** The release that wrote it. */
  made_by?: string;
  materials?: OwnMaterial[];
  /** Steps to show. */
  lectern?: Step[];
  trial?: Trial;
  shelf?: Shelved[];
  errand?: Errand;
}
/** The starting soil; sand, silt and clay sum to 100. */
export interface Ground {
  sand_pct: Figure;
  silt_pct: Figure;
  clay_pct: Figure;
  organic_matter_pct?: Figure;
  bulk_density_kg_m3?: Figure;
  gravel_pct?: Figure;
  water_per_dry_pct?: Figure;
  crumb?: Figure;
  ph?: Figure;
  ec_saturated_paste_ds_m?: Figure;
  ec_1to5_ds_m?: Figure;
  ec_1to2_ds_m?: Figure;
  cec_cmol_kg?: Figure;
  calcium_share_pct?: Figure;
  magnesium_share_pct?: Figure;
  potassium_share_pct?: Figure;
  sodium_share_pct?: Figure;
  carbonate_pct?: Figure;
}
export interface Bed { area: Area; depth: Length; }
export interface Addition {
  /** Id of a material of the catalogue or of the recipe. */
  material: string;
  amount: Amount;
  water_per_wet_pct?: Figure;
  on_top?: boolean;
  bag?: Bag;
  price?: Price;
}
export interface Bag { value: number; unit: MassUnit | VolumeUnit; expands?: number; }
export interface Price { value: number; per: PricedAmount; }
export interface PricedAmount { value: number; unit: MassUnit | VolumeUnit | "bag"; }
export interface Place {
  kind?: "container" | "bed";
  volume?: Volume;
  height?: Length;
  top_width?: Length;
  bottom_width?: Length;
  count?: number;
  drains?: boolean;
  on?: "ground" | "deck" | "roof";
  near?: "old_building" | "road" | "slope" | "water";
  crop?: string;
  mean_temperature_c?: number;
}
export interface Measured { ground?: Measurements; blend?: Measurements; }
export interface Measurements {
  bulk_density_kg_m3?: Figure;
  drained_pct?: Figure;
  hole_mm_h?: Figure;
  ring_mm_h?: Figure;
  water_per_dry_pct?: Figure;
}
export type Group = "sand" | "grit" | "porous_mineral" | "mineral_meal" | "char" | "peat_coir" | "compost_manure" | "bark_wood_straw" | "meal" | "soil" | "powder" | "liquid";
export interface Properties<F> {
  water_per_wet_pct?: F;
  loose_density_kg_m3: F;
  settled_dry_density_kg_m3?: F;
  grain_density_kg_m3?: F;
  solid_density_kg_m3?: F;
  grain_mm?: F;
  organic_matter_pct?: F;
  char_pct?: F;
  sand_pct?: F;
  silt_pct?: F;
  clay_pct?: F;
  coarse_pct?: F;
  ph?: F;
  ec_1to5_ds_m?: F;
  cec_cmol_kg?: F;
  buffer_cmol_kg_ph?: F;
  calcium_carbonate_equivalent_pct?: F;
  gypsum_pct?: F;
  sulfur_pct?: F;
  total_nitrogen_pct?: F;
  total_phosphorus_pct?: F;
  total_potassium_pct?: F;
  total_sodium_pct?: F;
  carbon_pct?: F;
  kept_after_year_1_pct?: F;
}
export interface OwnMaterial extends Properties<Figure> {
  id: string;
  name?: string;
  group?: Group;
  bag?: Bag;
  price?: Price;
}
/** Whole fields of the recipe that are otherwise; `null` takes one away. */
export interface Changes {
  ground?: Ground;
  soil?: MassOrVolume | Bed;
  parts_of_soil?: number | null;
  additions?: Addition[] | null;
  place?: Place | null;
  measured?: Measured | null;
  materials?: OwnMaterial[] | null;
}
export type Shown = "pores" | "density" | "organic" | "air" | "plant_water" | "drainage" | "ph" | "sodium" | "salt" | "pot_water" | "pot_air" | "wet_layer";
export type Guessed = "pores" | "organic" | "air" | "plant_water" | "ph" | "sodium" | "salt" | "pot_water" | "pot_air";
export interface Step {
  caption: string;
  /** Both drawings, or one of the figures shown. */
  guess?: boolean | Guessed;
  /** The path of what the slider moves. */
  moves?: string;
  figures?: Shown[];
  /** The number, from 0, of an earlier step whose changes it has beside its own. */
  like?: number;
  changes?: Changes;
}
export type Shelved = ShelvedBlend | ShelvedLike;
export interface ShelvedBlend { name: string; blend: Changes; }
export interface ShelvedLike {
  name: string;
  /** The number, from 0, of an earlier blend whose fields it has beside its own. */
  like: number;
  blend?: Changes;
}
export interface Errand {
  offers?: Offer[];
  waste_pct?: number;
  wish?: Wish;
  without?: string[];
  odds_pct?: number;
  budget?: number;
}
export interface Offer {
  material: string;
  bag: Bag;
  loose?: boolean;
  price?: Price;
  delivery?: number;
  load?: MassOrVolume;
  most?: number;
  water_per_wet_pct?: number;
  invented?: boolean;
}
export interface Wish {
  classes?: TextureClass[];
  sand_pct?: Band;
  silt_pct?: Band;
  clay_pct?: Band;
  organic_matter_pct?: Band;
  pore_space_pct?: Band;
  air_pct?: Band;
  bulk_density_kg_m3?: Band;
  ph?: Band;
  ec_saturated_paste_ds_m?: Band;
  cost?: Most;
  skeleton?: boolean;
  fill?: Volume;
  ground?: "all" | "to_fill";
}
export interface Band { least?: number; most?: number; }
export interface Most { most?: number; }
/** The side-by-side trial. Days are YYYY-MM-DD, containers count from 1. */
export interface Trial {
  id: string;
  title?: string;
  treatments?: Treatment[];
  container?: Vessel;
  strip?: Bed;
  dose?: Dose;
  design?: "blocks" | "random" | "latin";
  blocks?: number;
  seed: string;
  columns?: number;
  site?: "even" | "one_way" | "two_ways";
  blind?: boolean;
  crop?: string;
  variety?: string;
  seeds?: number;
  plants?: number;
  primary?: string;
  matters?: number;
  matters_of?: Record<string, number>;
  matters_late?: Record<string, number>;
  expected_cv_pct?: number;
  measures?: OwnMeasure[];
  start?: string;
  photo_days?: number[];
  lost?: LostContainer[];
  records?: RecordSheet[];
  notes?: string;
}
export interface Vessel { volume: Volume; height: Length; empty?: Mass; }
export interface Dose { value: number; unit: MassUnit | VolumeUnit | LengthUnit | RateUnit | "%v"; }
export interface Treatment {
  is: "untouched" | "dug" | "addition" | "blend";
  material?: string;
  name?: string;
  dose?: Dose;
  copies?: number;
  guess?: "more" | "same" | "less";
  guess_pct?: number;
  predicted?: Predicted;
}
/** What the model foretold: a number, or low, typical and high. */
export interface Predicted {
  air_space?: number | number[];
  total_porosity?: number | number[];
  bulk_density_g_cm3?: number | number[];
  plant_water?: number | number[];
  ksat_cm_h?: number | number[];
  infiltration_min?: number | number[];
  ph?: number | number[];
  ec_ds_m?: number | number[];
  container_kg?: number | number[];
}
export interface OwnMeasure {
  id: string;
  name?: string;
  unit?: string;
  scale?: "log" | "raw" | "score" | "count";
  good?: "more" | "less" | "neither";
  matters?: number;
  u?: number;
  low?: number;
  high?: number;
  decimals?: number;
}
export type Missing = "lost" | "not_measured" | "animal" | "died" | "other";
export interface LostContainer {
  container: number;
  reason: Missing;
  of_addition?: boolean;
  on?: string;
  note?: string;
}
/** One measure, one day: values of the containers from a number on; `">480"` is only known to lie
 *  above. */
export interface RecordSheet {
  measure: string;
  date: string;
  instrument?: string;
  u?: number;
  scorer?: string;
  from?: number;
  values: (number | string | null)[];
  more?: RecordMore[];
}
export interface RecordMore { container: number; missing?: Missing; reps?: number; note?: string; }

/** What the blend becomes. */
export interface Outcome {
  /** Absent where nothing has sand, silt or clay. */
  texture?: Texture;
  organic_matter_pct?: Range;
  organic_matter_with_char_pct?: Range;
  mass: Masses;
  volume_l: Volumes;
  bulk_density_kg_m3: States;
  pore_space_pct: States;
  /** Shares of the settled volume. */
  pores_pct: Pores;
  drainage_mm_h: Range;
  container?: Container;
  skeleton: Skeleton;
  ph?: Range;
  ec_saturated_paste_ds_m: Range;
  ec_1to5_ds_m: Range;
  cec_cmol_kg: Range;
  esp_pct: Range;
  carbon_to_nitrogen?: Range;
  carbon_to_nitrogen_added?: Range;
  cost?: Range;
  /** The blend less the ground, draw by draw. */
  changes?: BlendChanges;
  measured?: Agreement;
  verdict: Remark[];
  notes: Remark[];
  cautions: Remark[];
}
export type TextureClass = "sand" | "loamy_sand" | "sandy_loam" | "loam" | "silt_loam" | "silt" | "sandy_clay_loam" | "clay_loam" | "silty_clay_loam" | "sandy_clay" | "silty_clay" | "clay";
export interface Texture {
  sand_pct: Range;
  silt_pct: Range;
  clay_pct: Range;
  class: TextureClass;
  /** Share of the draws in each class; absent ones have none. */
  class_odds: Partial<Record<TextureClass, number>>;
}
export interface Masses { dry_kg: Range; moist_kg: Range; watered_kg: Range; on_top_kg?: Range; }
/** On digging day, after a season, and puddled. */
export interface States { fresh: Range; settled: Range; puddled: Range; }
export interface Volumes extends States { loose_parts: Range; }
export interface Pores { air: Range; available_water: Range; unavailable_water: Range; closed: Range; }
export interface Container { height_cm: Range; water_pct: Range; air_pct: Range; wet_layer_cm: Range; }
export interface Skeleton {
  share: Range;
  threshold?: Range;
  touching?: boolean;
  touching_odds?: number;
  more_to_touch_kg?: Range;
}
export interface BlendChanges {
  pore_space_pct: AgainstGround;
  bulk_density_kg_m3: AgainstGround;
  organic_matter_pct?: Change;
}
export interface AgainstGround { ground_as_it_lies: Change; dug_nothing_added: Change; }
export interface Change { difference: Range; odds_more: number; odds_less: number; }
export interface Agreement { effective_draws: number; }
export interface Remark {
  id: string;
  severity: "note" | "warn" | "stop";
  text: string;
  /** The path of the field that it is about. */
  field?: string;
}

/** A material of the catalogue. */
export interface Material {
  id: string;
  name: string;
  group: Group;
  usual_kg_m2?: number;
  /** What is computed with. */
  properties: Properties<Range>;
  /** What was read, and where. */
  numbers: SourcedNumber[];
}
export interface SourcedNumber extends Range {
  field: string;
  unit?: string;
  source: string;
  citation: string;
  mark: "verified" | "memory" | "practice";
  note?: string;
}

/** Something that is wrong with a field. */
export interface Issue {
  code: IssueCode;
  /** Such as `additions[0].amount.unit`; `$` is the whole. */
  path: string;
  /** A sentence for people. */
  text: string;
  /** The least and the greatest that is accepted. */
  low?: number;
  high?: number;
  /** What can stand there. */
  allowed?: string[];
}
export type IssueCode = "not_json" | "version" | "unknown_field" | "twice" | "missing" | "kind" | "not_finite" | "out_of_range" | "range_order" | "not_one_of" | "unknown_material" | "fractions" | "too_many" | "only_one_of" | "empty" | "no_ground" | "shares" | "no_area" | "no_bag" | "mulch_share" | "no_dry_matter" | "misfit" | "too_dense" | "link" | "link_too_long" | "no_data" | "unreadable" | "too_deep" | "too_large" | "half_letter";
export interface Refused { ok: false; issues: Issue[]; }
export type OutcomeAnswer = { ok: true; outcome: Outcome; } | Refused;
export type RecipeAnswer = { ok: true; recipe: Recipe; } | Refused;
export type LettersAnswer = { ok: true; letters: string; } | Refused;
export type ClassAnswer = { ok: true; class: Classified; } | Refused;
export type LanguageAnswer = { ok: true; language: Language; } | Refused;
export type UnitsAnswer = { ok: true; units: Units; } | Refused;
export type FractionsAnswer = { ok: true; fractions: Converted; } | Refused;
/** Of sentences and names; {@link speak} chooses it. */
export type Language = "en" | "es" | "fr";
/** What sentences are told in; {@link measure_in} chooses it. Numbers are what their names say. */
export type Units = "metric" | "us";
export type System = "usda" | "canada" | "uk" | "germany" | "europe" | "fao" | "international" | "brazil";
/** A class; ids are those of {@link systems}. */
export interface Classified { system: System; id: string; name: string; }
/** Fractions by the limits of size of a system; `doubt_pct` tells by how many points sand and silt may
 *  be off. */
export interface Converted {
  system: System;
  sand_pct: number;
  silt_pct: number;
  clay_pct: number;
  /** The same limit; mass spread evenly over the logarithm of size (Shirazi et al. 2001); the regression
   *  of Minasny & McBratney 2001 from 20 um; or that regression turned round, to 20 um, where it leaves
   *  more between 20 and 50 um than the logarithm does (this last is our own choice). */
  way: "same" | "log_linear" | "regression" | "inverse_regression";
  doubt_pct: number;
}
export interface SystemOfClasses {
  id: System;
  name: string;
  /** Where its silt ends and its sand begins, um: {@link convert} tells fractions of other limits by it. */
  silt_um: number;
  /** From coarse to fine. */
  classes: ClassOfSystem[];
  source: string;
  mark: "verified" | "memory" | "practice";
}
export interface ClassOfSystem { id: string; name: string; }

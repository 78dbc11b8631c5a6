// What the desk is asked and what it answers, as far as the page looks at it.

export interface Case {
  when: string;
  at: string;
  zone?: string | null;
  clock?: string | null;
  calendar?: string | null;
  which?: string | null;
  houses?: string | null;
  with?: With | null;
  by?: string | null;
  read: Record<string, string>;
  without: string[];
}

export type With = { named: string } | { specification: string };

export interface Instrument {
  name: string;
  description: string;
  plate_latitude_deg: number;
  plates_deg: number[];
  diameter_mm: number;
  hemisphere: "north" | "south";
  orientation: string;
  date_from: string;
  procedures: string[];
  stars: string[];
}

export interface State {
  plate_latitude_deg: number;
  rete_deg: number;
  rule_deg: number;
  alidade_deg: number;
}

export type Side = "front" | "back";

export interface Point { x_mm: number; y_mm: number }

export interface Read {
  what: string;
  deg: number;
  reads_to_deg: number;
  reads_to_text: string | null;
  text: string | null;
}

export interface Step {
  instruction: string;
  state: State;
  procedure: string | null;
  lines: string[];
  side: Side;
  look_at?: Point;
  rete_turn_deg?: number;
  reading?: Read;
  reason?: string;
}

export interface SetBrass {
  plate: string;
  plate_off_deg: number;
  under_rule: string;
  degree_or_date: string;
  hour: string;
  time: string;
}

export interface Cusp {
  house: number;
  deg: number | null;
  reads_to_deg: number | null;
  line: string;
  opposite: boolean;
  reason?: string;
}

export interface Share { cause: string; words: string; deg: number }

export interface Why {
  read_deg: number | null;
  exact_deg: number | null;
  difference_deg: number | null;
  shares: Share[];
  sentence: string | null;
  reason?: string;
}

export interface Figure {
  from: string;
  hour: {
    number: number; of: string; ruler: string; day_ruler: string;
    begins: string; ends: string; minutes: number; between: string[];
  } | null;
  bodies: {
    name: string;
    longitude_deg: number;
    latitude_deg: number;
    house: number | null;
    up: boolean;
    speed_deg_per_day: number;
    retrograde: boolean;
    swift: boolean | null;
    under_sun: string | null;
    dignities: {
      ruler: string; exalted: string | null; triplicity: string[]; term: string; face: string; has: string[]; score: number;
    } | null;
    antiscion_deg: number;
    contra_antiscion_deg: number;
    oblique_ascension_deg: number | null;
  }[];
  nodes: { name: string; longitude_deg: number; house: number | null }[];
  lots: { name: string; longitude_deg: number | null; house: number | null; source: string }[];
  lunation: { phase: string; longitude_deg: number; at: string } | null;
  aspects: {
    faster: string; kind: string; slower: string; away_deg: number; limit_deg: number; applying: boolean; by_sign: boolean;
  }[];
  stars: { star: string; longitude_deg: number; near: string; away_deg: number }[];
}

export interface Finished {
  exact: Figure;
  read: Figure | null;
  reason: string | null;
  changes: string[];
  close: { sentence: string }[];
  rules: { rule: string; choice: string; source: string }[];
}

/** The rules of a figure by their names; what is not there is as usual. */
export interface Rules { outer?: boolean; [rule: string]: string | boolean | undefined }

/** A case as the casebook keeps it. */
export interface BookCase {
  name: string;
  when: string;
  at: string;
  zone?: string | null;
  clock?: string | null;
  calendar?: string | null;
  which?: string | null;
  houses?: string | null;
  with?: string | null;
  by?: string | null;
  readings?: { what: string; degree: string; who?: string }[];
  marks?: { what: string; mark: string; remark?: string }[];
  figure?: string | null;
  note?: string;
  tags?: string[];
}

export interface KeptCase {
  id: number;
  version: number;
  kept_unix_s: number;
  changed_unix_s: number;
  case: BookCase;
}

export interface FoundCases { cases: KeptCase[]; more: boolean; tags: [string, number][]; total: number }

export interface Imported { kept: number; good: number; bad: { line: number; why: string }[] }

/** What is asked of the workshop. */
export interface Parts { with: With | null; plates: string[]; parts: string[]; formats?: string[]; page?: string }

export interface PartPicture {
  name: string; title: string; svg: string; width_mm: number; flaw: string | null;
  thinned: { what: string; shown: string; key: string }[];
}

export interface PlateErrors { largest_ascendant_deg: number; typical_ascendant_deg: number; largest_cusp_deg: number }

/** What is asked of plates for towns. */
export interface PlatesRequest { towns: string[]; stock_deg: number[]; within_deg: number; houses: string | null; year?: number; date_from?: string }

export interface Plates {
  method: string;
  within_deg: number;
  towns: {
    name: string;
    latitude_deg: number;
    best_plate_deg: number | null;
    error: PlateErrors | null;
    proportion: { plates_deg: number[]; error: PlateErrors; times_better: number; working: string[] } | null;
    advice: "plate" | "proportion" | "new-plate";
  }[];
  smallest_set: { plate_deg: number; towns: string[] }[];
}

export interface Today {
  recent: KeptCase[];
  to_correct: KeptCase[];
  plates: {
    with: string;
    name: string;
    latitude_deg: number;
    best_plate_deg: number | null;
    error: { largest_ascendant_deg: number; largest_cusp_deg: number } | null;
  }[];
}

export interface Answer {
  moment: {
    given: string;
    calendar: string;
    clock_time: string;
    clock: string;
    zone: string | null;
    steps: { what: string; amount_s: number; result: string; reason: string }[];
    notes: { text: string }[];
  };
  place: { name: string; latitude_deg: number; longitude_deg: number };
  figure: {
    ascendant_deg: number | null;
    midheaven_deg: number | null;
    method: string;
    methods: Record<string, number[] | { error: string }>;
  };
  instrument: Instrument;
  set: SetBrass | null;
  working: { title: string; steps: Step[] } | null;
  reading: {
    ascendant_deg: number | null;
    midheaven_deg: number | null;
    cusps: Record<string, Cusp[]>;
    reads_to_deg: { ascendant: number | null; midheaven: number | null };
  } | null;
  why: { ascendant: Why; midheaven: Why; cusps: Record<string, (Why & { house: number })[]> } | null;
  reason: string | null;
}

export interface Turn {
  state: State;
  ascendant: Read | null;
  midheaven: Read | null;
  hour: { deg: number; reads_to_deg: number; reads_to_text: string | null; text: string; time: string };
  under_rule: Read | null;
  date_under_rule: string | null;
  alidade: Read;
  date_under_alidade: string | null;
  sun_altitude: Read;
  under_pointer: {
    altitude: string;
    altitude_reads_to_text: string | null;
    degree: string | null;
    degree_reads_to_text: string | null;
    star: { name: string; designation: string; altitude: string; altitude_reads_to_text: string | null } | null;
  } | null;
  means: { hour: string; when: string; text: string } | null;
  words: string;
}

export interface Front {
  svg: string;
  reach_mm: number;
  clockwise: boolean;
  rete_pole: Point;
}

export interface Back { svg: string; reach_mm: number; aries_deg: number }

export interface Suggestion { name: string; latitude_deg: number; longitude_deg: number }

export interface Settings {
  home: string | null;
  zone: string | null;
  with: string | null;
  houses: string | null;
  by: string | null;
  figures: string | null;
}

export interface Start {
  version: string;
  cabinet: Instrument[];
  methods: string[];
  forms: string[];
  parts: string[];
  formats: string[];
  rules: { rule: string; usual: string; choices: string[] }[];
  settings: Settings;
}

export interface Refusal { field?: string; value?: string | null; message: string; choices?: string[] }

/** A thing that an operation asks. */
export interface Ask {
  name: string;
  place: "star" | "body" | "seen" | "told" | "hand" | "side" | "of";
  words: string;
  counted_in: string | null;
  choices: string[];
  example: string;
  needed: boolean;
  left_out: string | null;
  where_of: string | null;
}

export interface OperationKind {
  name: string;
  title: string;
  source: string;
  weak: string;
  heading: string;
  asks: Ask[];
}

/** An operation with what is given to it, all as it was written. */
export interface Work {
  operation: string;
  star?: string | null;
  body?: string | null;
  hand?: string | null;
  side?: string | null;
  of?: string | null;
  seen: Record<string, string>;
  told: Record<string, string>;
}

export interface Found {
  name: string;
  what: string;
  measure: Measure;
  text: string | null;
  clock: string | null;
  reads_to_text: string | null;
  within_text: string | null;
  exact_text: string | null;
  difference_deg: number | null;
  shares: Share[];
  sentence: string | null;
  reason?: string;
}

export type Measure =
  "degree" | "time-of-day" | "arc" | "height" | "azimuth" | "unequal-hours" | "number";

export interface WorkAnswer {
  operation: OperationKind;
  instrument: Instrument;
  star: string | null;
  seen: { name: string; deg: number; given: boolean }[];
  working: { title: string; steps: Step[] };
  findings: Found[];
  notes: string[];
}

export interface Corrected {
  instrument: Instrument | null;
  by: string | null;
  readings: {
    what: string;
    read_text: string;
    should_text: string | null;
    within_deg: number | null;
    difference_deg: number | null;
    right: boolean;
  }[];
  verdict: "right" | "slips" | "unexplained";
  sentence: string;
  explanations: {
    rank: number;
    slips: { name: string; words: string; mend: string }[];
    misfit: number;
    weight: number;
    shows_deg: (number | null)[];
  }[];
}

/** What holds throughout an uncertain time, and what changes when. */
export interface During {
  from: string;
  until: string;
  travels: { what: string; text: string }[];
  holds: { what: string; value: string }[];
  changes: { at: string; what: string; from: string; to: string }[];
}

export interface Revolution {
  sun_deg: number;
  years: number;
  limb_turn_deg: number;
  limb_turn_a_year_deg: number | null;
  cast: Answer;
}

/** When, in a year, a degree rises. */
export interface MomentsOfYear {
  place: { name: string };
  instrument: Instrument;
  days: { date: string; rising: Found }[];
}

export interface Compared {
  place: { name: string };
  by: string;
  method: string;
  moments: number;
  instruments: { name: string }[];
  svg: string;
}

export interface Estimate { at: number; within: number }

export interface Deviation { what: string; measured_mm: number; should_mm: number; off_mm: number }

/** What an instrument was made for, found from what was measured. */
export interface Examined {
  name: string;
  sentences: string[];
  circles: { lines: Deviation[] } | null;
  plates: { lettered_deg: number | null; latitude_deg: Estimate | null; lines: Deviation[] }[];
  stars: {
    year: Estimate;
    stars: { name: string; designation: string; year: number | null; off_mm: number; doubtful: boolean }[];
  } | null;
  specification: string | null;
  against: { name: string; within_mm: number; kept: number; missed: number; lines: Deviation[] } | null;
}

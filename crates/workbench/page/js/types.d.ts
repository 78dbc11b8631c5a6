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
}

export interface State {
  plate_latitude_deg: number;
  rete_deg: number;
  rule_deg: number;
  alidade_deg: number;
}

export type Side = "front" | "back";

export interface Point { x_mm: number; y_mm: number }

export interface Read { what: string; deg: number; reads_to_deg: number; text: string | null }

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
  figure: { method: string; methods: Record<string, number[] | { error: string }> };
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
  hour: { deg: number; text: string; time: string };
  under_rule: Read | null;
  date_under_rule: string | null;
  alidade: Read;
  date_under_alidade: string | null;
  sun_altitude: Read;
  under_pointer: {
    altitude: string;
    degree: string | null;
    star: { name: string; designation: string; altitude: string } | null;
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
  rules: { rule: string; usual: string; choices: string[] }[];
  settings: Settings;
}

export interface Refusal { field?: string; message: string; choices?: string[] }

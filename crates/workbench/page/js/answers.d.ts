// What the desk answers, made of its schemas; not written by hand.

export interface AgainstAnswer {
  called: string;
  kept: number;
  lines: DeviationAnswer[];
  missed: number;
  name: string;
  within_mm: number;
}

export interface AskAnswer {
  choices: string[];
  counted_in: string | null;
  example: string;
  left_out: string | null;
  name: string;
  needed: boolean;
  place: "star" | "body" | "seen" | "told" | "hand" | "side" | "of";
  where_of: string | null;
  words: string;
}

export interface AskedAnswer {
  accept: string;
  accept_deg: number;
  exact: string | null;
  exact_deg: number | null;
  line: string;
  measure: string;
  name: string;
  reads: string;
  reads_deg: number;
  reads_to: string | null;
  reads_to_deg: number | null;
  what: string;
}

export interface AspectAnswer {
  applying: boolean;
  away_deg: number;
  by_sign: boolean;
  faster: string;
  kind: string;
  limit_deg: number;
  slower: string;
}

export interface BackAnswer {
  aries_deg: number;
  reach_mm: number;
  svg: string;
}

export interface BackPicturedAnswer {
  corners: CornerAnswer[];
  hole_off_percent: EstimateAnswer[] | null;
}

export interface BetweenAnswer {
  after: string;
  column: string;
  largest: number;
  nine_in_ten: number;
}

export interface BetweenRoadsAnswer {
  difference_deg: number;
  one: "pen" | "brass";
  other: "brass" | "calculation";
  sentence: string;
  shares: ShareAnswer[];
}

export interface BirthRuleAnswer {
  angle: string;
  clock_time: string;
  degree_deg: number;
  rule: "animodar" | "trutine-of-hermes";
  says: string[];
  source: string;
  title: string;
}

export interface BodyAnswer {
  declination_deg: number;
  latitude_deg: number;
  longitude_deg: number;
  name: string;
  right_ascension_deg: number;
  speed_deg_per_day: number;
}

export interface BrassAnswer {
  faults: BrassNote[];
  form: BrassForm;
  instrument: InstrumentAnswer | null;
  taken: BrassNote[];
  text: string;
}

export interface BrassForm {
  aries: string;
  dates: string;
  days: string;
  description: string;
  diameter: string;
  hemisphere: string;
  hour_lines: string;
  house_lines: string;
  limb_hours: string;
  name: string;
  obliquity: string;
  orientation: string;
  plates: string;
  year: string;
}

export interface BrassNote {
  field: string;
  text: string;
}

export interface CabinetAnswer {
  instruments: InstrumentAnswer[];
  own: OwnAnswer[];
  unread: UnreadAnswer[];
}

export interface CandidateAnswer {
  ascendant_deg: number | null;
  ascendant_text: string | null;
  clock: string | null;
  source: string;
  taken: boolean;
  utc: string;
  words: string;
}

export interface CastAnswer {
  by: string;
  candidates: CandidateAnswer[];
  cautions: string[];
  figure: FigureAnswer;
  ideal: IdealAnswer;
  instrument: InstrumentAnswer;
  moment: MomentAnswer;
  own: JudgedAnswer | null;
  place: PlaceAnswer;
  reading: ReadingAnswer | null;
  reason: string | null;
  set: SetAnswer | null;
  sky: SkyAnswer;
  verdict: VerdictAnswer | null;
  why: WhyAnswer | null;
  working: WorkingAnswer | null;
}

export interface CastRequest {
  at: string;
  border: string | null;
  by: string | null;
  calendar: string | null;
  clock: string | null;
  houses: string | null;
  plates: string | null;
  read: Record<string, string>;
  sun: string | null;
  when: string;
  which: string | null;
  with: WithInstrument | null;
  without: string[];
  zone: string | null;
}

export interface CellAnswer {
  deg?: number;
  jd_ut?: number;
  number?: number;
  said: string;
}

export interface Change {
  at: string;
  from: string;
  to: string;
  what: string;
}

export interface ChooseAnswer {
  calendar: string;
  from: string;
  from_jd_ut: number;
  from_utc: string;
  place: PlaceAnswer;
  rules: RuleAnswer[];
  summary: string;
  times: TimeAnswer[];
  until: string;
  until_utc: string;
  wishes: WishAnswer[];
  zone: string | null;
}

export interface CloseAnswer {
  away_deg: number | null;
  seconds: number;
  sentence: string;
}

export interface ColumnAnswer {
  head: string;
  key: string;
  last_digit: string | null;
}

export interface CompareAnswer {
  by: string;
  from: string;
  instruments: ComparedInstrument[];
  method: string;
  moments: number;
  place: PlaceAnswer;
}

export interface ComparedInstrument {
  ascendant: ErrorAnswer;
  cusps: ErrorAnswer;
  diameter_mm: number;
  midheaven: ErrorAnswer;
  name: string;
  plate_latitude_deg: number;
  unequal_hour_lines: string;
}

export interface CornerAnswer {
  altitude_deg: EstimateAnswer;
  of: string;
  reach_percent: number;
}

export interface CorrectAnswer {
  by: string | null;
  explanations: ExplanationAnswer[];
  instrument: InstrumentAnswer | null;
  moment: MomentAnswer;
  place: PlaceAnswer;
  plate: PlateFitAnswer | null;
  readings: CorrectReading[];
  sentence: string;
  verdict: "right" | "slips" | "follows" | "unexplained";
}

export interface CorrectReading {
  difference_deg: number | null;
  follows_deg: number | null;
  follows_text: string | null;
  mark: "right" | "follows" | "rough" | "wrong";
  measure: string;
  read_deg: number;
  read_text: string;
  should_deg: number | null;
  should_text: string | null;
  what: string;
  within_deg: number | null;
  within_text: string | null;
}

export interface CorrectionAnswer {
  left_deg: number;
  lines: CorrectionLine[];
  now: CorrectionLine | null;
  title: string;
}

export interface CorrectionLine {
  add_deg: number;
  add_text: string;
  read_deg: number;
  read_text: string;
}

export interface CuspAnswer {
  deg: number | null;
  house: number;
  line: string;
  opposite: boolean;
  reads_to_deg: number | null;
  reason?: string;
}

export interface DeviationAnswer {
  measured_mm: number;
  off_mm: number;
  should_mm: number;
  what: string;
}

export interface DignitiesAnswer {
  exalted: string | null;
  face: string;
  has: string[];
  ruler: string;
  score: number;
  term: string;
  triplicity: string[];
}

export interface DrawnAnswer {
  of: string | null;
  pieces: number[][][];
}

export interface DrawnPoint {
  x_mm: number;
  y_mm: number;
}

export interface DuringAnswer {
  changes: Change[];
  from: string;
  holds: Holding[];
  length_s: number;
  rules: BirthRuleAnswer[];
  strip: Strip[];
  travels: Travel[];
  until: string;
}

export interface ErrorAnswer {
  expected_deg: number | null;
  largest_deg: number | null;
  nine_in_ten_deg: number | null;
}

export interface EstimateAnswer {
  at: number;
  within: number;
}

export interface EveningStarAnswer {
  altitude_deg: number;
  at: string;
  azimuth_deg: number;
  from: string;
  lettered: string | null;
  star: string;
}

export interface EventAnswer {
  azimuth_deg: number;
  clock_time: string;
  jd_ut: number;
  seen_altitude_deg: number;
}

export interface ExaminedAnswer {
  against: AgainstAnswer | null;
  calendar: ExaminedCalendar | null;
  circles: ExaminedCircles | null;
  limb: ExaminedLimb | null;
  name: string;
  pictured: PicturedAnswer | null;
  plates: ExaminedPlate[];
  sentences: string[];
  specification: string | null;
  stars: ExaminedStars | null;
}

export interface ExaminedCalendar {
  reason: string | null;
  year: EstimateAnswer | null;
}

export interface ExaminedCircles {
  ecliptic_offset_mm: EstimateAnswer | null;
  equator_mm: EstimateAnswer;
  lines: DeviationAnswer[];
  obliquity_deg: EstimateAnswer;
  year: EstimateAnswer | null;
}

export interface ExaminedLimb {
  bent_deg: EstimateAnswer;
  division_deg: number;
  off_centre_deg: EstimateAnswer;
  off_centre_mm: EstimateAnswer | null;
  towards_deg: number;
}

export interface ExaminedPlate {
  equator_mm: EstimateAnswer | null;
  errors: PlateErrorAnswer[];
  latitude_deg: EstimateAnswer | null;
  lettered_deg: number | null;
  lines: DeviationAnswer[];
  off_centre_mm: EstimateAnswer | null;
}

export interface ExaminedStar {
  designation: string;
  doubtful: boolean;
  name: string;
  off_mm: number;
  year: number | null;
}

export interface ExaminedStars {
  stars: ExaminedStar[];
  year: EstimateAnswer;
}

export interface ExercisesAnswer {
  class: string;
  pupils: PupilAnswer[];
  seed: number;
  version: number;
  year: number;
}

export interface ExplanationAnswer {
  misfit: number;
  rank: number;
  shows_deg: (number | null)[];
  shows_text: (string | null)[];
  slips: SlipAnswer[];
  weight: number;
}

export interface FaceAnswer {
  parts: FacePartAnswer[];
  plate_latitude_deg: number | null;
  sentences: string[];
}

export interface FacePartAnswer {
  centre_px: number[];
  distortion: number;
  focal_px: number;
  part: string;
  ray: number[][];
}

export interface FaultsAnswer {
  ecliptic_offset_mm: number;
  pin_play_mm: number;
  plate_off_noon_mm: number;
  plate_off_west_mm: number;
  plate_turned_deg: number;
  rule_offset_mm: number;
}

export type Field = "when" | "at" | "zone" | "clock" | "calendar" | "which" | "houses" | "with" | "read" | "sun" | "without" | "by" | "plate" | "step" | "operation" | "star" | "body" | "tell" | "hand" | "side" | "of" | "from" | "to" | "every" | "rule" | "lots" | "form" | "state" | "measurements" | "wish" | "class" | "exercise" | "table" | "obliquity" | "hour" | "wait";

export type FieldAnswer = number | string | Record<string, number | null> | null;

export interface FieldChoice {
  value: string;
  words: string;
}

export interface FieldFault {
  key: string | null;
  line: number | null;
  text: string;
}

export interface FieldGroupAnswer {
  fields: FormField[];
  side: string;
  title: string;
}

export interface FigureAnswer {
  ascendant_deg: number | null;
  cusps_deg: number[] | null;
  method: string;
  methods: Record<string, MethodAnswer>;
  midheaven_deg: number;
}

export interface FilmAnswer {
  captions_vtt: string;
  film_svg: string;
  frames: FrameAnswer[];
  rehearsal: string;
  script: string;
  title: string;
}

export interface FindingAnswer {
  clock: string | null;
  clock_date: string | null;
  deg: number | null;
  difference_deg: number | null;
  exact_clock: string | null;
  exact_deg: number | null;
  exact_text: string | null;
  measure: "degree" | "time-of-day" | "arc" | "height" | "azimuth" | "unequal-hours" | "number";
  name: string;
  reads_to_deg: number | null;
  reads_to_text: string | null;
  reason?: string;
  sentence: string | null;
  shares: ShareAnswer[];
  text: string | null;
  what: string;
  within_deg: number | null;
  within_text: string | null;
}

export interface FinishedAnswer {
  changes: string[];
  close: CloseAnswer[];
  exact: FinishedFigure;
  leaves: LeafAnswer[];
  mixture: string[];
  moment: MomentAnswer;
  place: PlaceAnswer;
  read: FinishedFigure | null;
  reason: string | null;
  rules: RuleAnswer[];
}

export interface FinishedFigure {
  ascendant_deg: number | null;
  aspects: AspectAnswer[];
  bodies: PlacedAnswer[];
  cusps_deg: number[] | null;
  from: string;
  hour: PlanetaryHourAnswer | null;
  lots: LotAnswer[];
  lunation: LunationAnswer | null;
  midheaven_deg: number;
  nodes: PointAnswer[];
  receptions: ReceptionAnswer[];
  sect: string;
  stars: StarNearAnswer[];
}

export interface FormField {
  choices: FieldChoice[];
  key: string;
  kind: string;
  least: number | null;
  line: number | null;
  most: number | null;
  needed: boolean;
  purpose: string;
  stated: ShownValue | null;
  title: string;
  unit: string;
  usual: ShownValue | null;
}

export interface FoundAnswer {
  ascendant_deg: number | null;
  bodies: FoundBodyAnswer[];
  cusps_deg: (number | null)[];
  fortune_deg: number | null;
  midheaven_deg: number;
  sidereal_time_h: number;
}

export interface FoundBodyAnswer {
  longitude_deg: number;
  name: string;
}

export interface FrameAnswer {
  begins_s: number;
  caption: string;
  ends_s: number;
  svg: string;
}

export interface FrontAnswer {
  clockwise: boolean;
  reach_mm: number;
  rete_pole: DrawnPoint;
  svg: string;
}

export interface HangsAnswer {
  sentence: string;
  surely: boolean;
  what: "ascendant-sign" | "lord-of-ascendant" | "lord-of-hour" | "house" | "midheaven-sign";
}

export interface HeldAnswer {
  called: string;
  enlarged: number;
  kept: number;
  map: string;
  marks: HeldMarkAnswer[];
  missed: number;
  name: string;
  plate_latitude_deg: number;
  tells_to_mm: number | null;
  verdict: HeldVerdict;
  within_mm: number;
}

export interface HeldMarkAnswer {
  kept: boolean;
  noon_mm: number;
  of: string;
  off_mm: number;
  west_mm: number;
}

export type HeldVerdict = "accepted" | "not-accepted" | "not-judged";

export interface Holding {
  value: string;
  what: string;
}

export interface HourAnswer {
  deg: number;
  reads_to_deg: number;
  reads_to_text: string | null;
  text: string;
  time: string;
}

export interface IdealAnswer {
  ascendant_deg: number | null;
  direct_cut_deg: (number | null)[];
  limb_thirds_deg: (number | null)[];
  midheaven_deg: number | null;
  turning_deg: (number | null)[];
}

export interface InstrumentAnswer {
  almucantar_step_deg: number;
  azimuth_step_deg: number;
  called: string;
  date_from: string;
  description: string;
  diameter_mm: number;
  ecliptic_division_deg: number;
  epoch_year: number;
  eye_mm: number;
  faults: FaultsAnswer;
  hemisphere: string;
  house_lines: string;
  limb_division_deg: number;
  name: string;
  obliquity_deg: number;
  orientation: string;
  plate_latitude_deg: number;
  plates_deg: number[];
  procedures: string[];
  stars: string[];
  unequal_hour_lines: string;
}

export interface JudgedAnswer {
  explanations: ExplanationAnswer[];
  plate: PlateFitAnswer | null;
  readings: CorrectReading[];
  sentence: string;
  verdict: "right" | "slips" | "follows" | "unexplained";
}

export interface LeafAnswer {
  changes: string[];
  columns: string[];
  name: string;
  notes: string[];
  rows: CellAnswer[][];
  sources: string[];
  title: string;
}

export interface LessonAnswer {
  cautions: string[];
  given: string[];
  in_treatise: boolean;
  instrument: string;
  moment: string | null;
  notes: string[];
  operation: string;
  place: string | null;
  readings: LessonReadingAnswer[];
  source: string | null;
  steps: LessonStepAnswer[];
  sum: SumLineAnswer[];
  title: string;
  weak: string | null;
}

export interface LessonReadingAnswer {
  differs: string | null;
  exact: string | null;
  line: string;
  name: string;
  opposite: boolean;
  read: string | null;
  reads_to: string | null;
  reason: string | null;
  sentence: string | null;
  shares: LessonShareAnswer[];
  what: string;
}

export interface LessonShareAnswer {
  amount: string;
  cause: string;
  words: string;
}

export interface LessonStepAnswer {
  instruction: string;
  number: number;
  remark: string;
  said: RunAnswer[];
  side: string;
}

export interface LotAnswer {
  house: number | null;
  longitude_deg: number | null;
  name: string;
  source: string;
}

export interface LunationAnswer {
  at: string;
  longitude_deg: number;
  phase: string;
}

export interface MarkAnswer {
  apart_px: number[];
  at_px: number[];
  doubtful: boolean;
  of: string;
  off_px: number;
}

export interface MeansAnswer {
  hour: string;
  text: string;
  when: string;
}

export type MethodAnswer = number[] | {
  error: string;
};

export interface MisprintAnswer {
  column: string;
  line: number;
  off: number;
  printed: string;
  row: string;
  wanted: string;
  words: string;
}

export interface MomentAnswer {
  calendar: string;
  clock: string;
  clock_time: string;
  delta_t_s: number;
  delta_t_uncertainty_s: number;
  equation_of_time_s: number;
  given: string;
  jd_tt: number;
  jd_ut: number;
  local_apparent_time_h: number;
  local_mean_time_h: number;
  longitude_correction_s: number;
  notes: NoteAnswer[];
  sidereal_time_deg: number;
  steps: StepAnswer[];
  summer_time_s: number;
  utc: string;
  utc_offset_s: number | null;
  zone: string | null;
}

export interface MomentsAnswer {
  days: MomentsOfDay[];
  instrument: InstrumentAnswer;
  place: PlaceAnswer;
}

export interface MomentsOfDay {
  date: string;
  rising: FindingAnswer;
}

export interface NodesAnswer {
  mean_deg: number;
  true_deg: number;
}

export interface NoteAnswer {
  text: string;
}

export interface NumeralAnswer {
  text: string;
  x_mm: number;
  y_mm: number;
}

export interface OpenedAnswer {
  argument: string;
  columns: string[];
  rows: OpenedRowAnswer[];
  table: string;
  title: string;
}

export interface OpenedRowAnswer {
  cells: string[];
  lit: boolean[];
  row: string;
}

export interface OperationAnswer {
  asks: AskAnswer[];
  heading: string;
  in_treatise: boolean;
  name: string;
  needs: string[];
  source: string;
  title: string;
  weak: string;
}

export interface OwnAnswer {
  file: string;
  in_folder: boolean;
  name: string;
}

export interface PartAnswer {
  heading: string;
  notes: string[];
  rows: number;
}

export interface PartsAnswer {
  back_svg: string;
  first_hour: SectionAnswer[];
  front_svg: string;
  glossary: WordAnswer[];
}

export interface PicturedAnswer {
  back: BackPicturedAnswer | null;
  drawn: DrawnAnswer[];
  enlarged: number;
  equator_percent: EstimateAnswer | null;
  held: HeldAnswer | null;
  hemisphere: string | null;
  hour_lines: string | null;
  house_lines: string | null;
  latitude_deg: EstimateAnswer | null;
  lean_deg: number;
  limb_radius_mm: number | null;
  marks: MarkAnswer[];
  off_noon_percent: EstimateAnswer | null;
  off_west_percent: EstimateAnswer | null;
  overlay: string;
  picture_px: number[];
  plate_obliquity_deg: EstimateAnswer | null;
  plate_turned_deg: EstimateAnswer | null;
  rete_deg: EstimateAnswer | null;
  rete_off_percent: EstimateAnswer | null;
  ring_obliquity_deg: EstimateAnswer | null;
  ring_off_percent: EstimateAnswer | null;
  rule_deg: EstimateAnswer | null;
  scatter_px: number;
  tellings: TellingAnswer[];
  year: EstimateAnswer | null;
}

export interface PlaceAnswer {
  latitude_deg: number;
  longitude_deg: number;
  name: string;
}

export interface PlaceOnHorizonAnswer {
  altitude_deg: number;
  azimuth_deg: number;
  culminates: EventAnswer[];
  hour_angle_deg: number;
  rises: EventAnswer[];
  seen_altitude_deg: number;
  sets: EventAnswer[];
  stays: string | null;
}

export interface PlacedAnswer {
  antiscion_deg: number;
  contra_antiscion_deg: number;
  dignities: DignitiesAnswer | null;
  house: number | null;
  latitude_deg: number;
  longitude_deg: number;
  mean_speed_deg_per_day: number | null;
  name: string;
  oblique_ascension_deg: number | null;
  retrograde: boolean;
  speed_deg_per_day: number;
  swift: boolean | null;
  under_sun: string | null;
  up: boolean;
}

export interface PlanetAnswer {
  at_place: PlaceOnHorizonAnswer | null;
  declination_deg: number;
  distance_au: number;
  latitude_deg: number;
  longitude_deg: number;
  motion: string;
  name: string;
  right_ascension_deg: number;
  speed_deg_per_day: number;
  station: StationAnswer | null;
}

export interface PlanetHourAnswer {
  from: string;
  from_jd_ut: number;
  planet: string;
  until: string;
  until_jd_ut: number;
}

export interface PlanetaryHourAnswer {
  begins: string;
  between: string[];
  day_ruler: string;
  ends: string;
  minutes: number;
  number: number;
  of: string;
  ruler: string;
}

export interface PlanetsAnswer {
  bodies: PlanetAnswer[];
  moment: WhenAnswer;
  nodes: NodesAnswer;
  obliquity_deg: number;
  place: PlaceAnswer | null;
  sidereal_time_deg: number;
}

export interface PlateErrorAnswer {
  engraved_deg: number;
  stands_deg: EstimateAnswer;
  to_add_deg: number;
  towards: "noon" | "midnight";
}

export interface PlateErrors {
  largest_ascendant_deg: number;
  largest_cusp_deg: number;
  typical_ascendant_deg: number;
  typical_cusp_deg: number;
}

export interface PlateFitAnswer {
  moves_deg: (number | null)[];
  off_deg: number;
  sentence: string;
}

export interface PlateOfSet {
  plate_deg: number;
  towns: string[];
}

export interface PlatesAnswer {
  method: string;
  smallest_set: PlateOfSet[];
  towns: TownPlates[];
  within_deg: number;
}

export interface PointAnswer {
  house: number | null;
  longitude_deg: number;
  name: string;
}

export interface PointerAnswer {
  altitude: string;
  altitude_reads_to_text: string | null;
  degree: string | null;
  degree_reads_to_text: string | null;
  star: StarAnswer | null;
}

export interface ProofreadAnswer {
  columns: ProofreadColumnAnswer[];
  slips: MisprintAnswer[];
  sums: WrongSumAnswer[];
}

export interface ProofreadColumnAnswer {
  column: string;
  numbers: number;
  of: string | null;
  within: number;
  within_text: string;
}

export interface Proportion {
  error: PlateErrors;
  part: number;
  plates_deg: number[];
  times_better: number;
  working: string[];
}

export interface ProposalAnswer {
  of: string;
  off_px: number | null;
  percent: number | null;
}

export interface ProposeAnswer {
  proposals: ProposalAnswer[];
  understood: boolean;
}

export interface PupilAnswer {
  diameter_mm: number;
  instrument: string;
  level: number;
  name: string;
  notes: string[];
  questions: QuestionAnswer[];
}

export interface QuestionAnswer {
  asks: AskedAnswer[];
  given: string[];
  instead: boolean;
  number: number;
  off: string[];
  request: WorkRequest;
  setting: string;
  tell_tales: TellTaleAnswer[];
  text: string;
  title: string;
  when: string;
}

export interface ReadAnswer {
  deg: number;
  name: string;
  reads_to_deg: number;
  reads_to_text: string | null;
  text: string | null;
  what: string;
}

export interface ReadingAnswer {
  ascendant_deg: number | null;
  cusps: Record<string, CuspAnswer[]>;
  midheaven_deg: number | null;
  reads_to_deg: ReadsToAnswer;
}

export interface ReadsToAnswer {
  ascendant: number | null;
  midheaven: number | null;
}

export interface ReceptionAnswer {
  aspect: string | null;
  by: string;
  guest: string;
  host: string;
  in_return: string | null;
}

export interface ReckonAnswer {
  found: FoundAnswer;
  moment: WhenAnswer;
  own: JudgedAnswer | null;
  place: PlaceAnswer;
  roads: RoadsAnswer | null;
  tables: TablesUsedAnswer;
  why: WhyFoundAnswer;
  within: WithinAnswer;
  working: SheetAnswer;
}

export interface Refusal {
  choices: string[];
  field: Field;
  message: string;
  value: string | null;
}

export interface RevolutionAnswer {
  cast: CastAnswer;
  limb_turn_a_year_deg: number | null;
  limb_turn_deg: number;
  note: string | null;
  sun_deg: number;
  years: number;
}

export interface RoadsAnswer {
  by: string;
  instrument: string;
  numbers: RoadsToAnswer[];
  reason: string | null;
}

export interface RoadsToAnswer {
  between: BetweenRoadsAnswer[];
  brass_deg: number | null;
  calculated_deg: number | null;
  pen_deg: number | null;
  what: string;
}

export interface RuleAnswer {
  choice: string;
  rule: string;
  source: string;
}

export interface RuleChoices {
  by_author: Record<string, string>;
  choices: string[];
  rule: string;
  usual: string;
}

export interface RunAnswer {
  finer?: string;
  found?: boolean;
  shows?: string[];
  text: string;
  word?: string;
}

export interface SectionAnswer {
  paragraphs: string[];
  title: string;
}

export interface SeenAnswer {
  deg: number;
  given: boolean;
  lowered_deg: number;
  name: string;
  raised_deg: number;
  within_deg: number | null;
}

export interface SetAnswer {
  degree_or_date: string;
  hour: string;
  is_mean_time: boolean;
  other_plate: string | null;
  plate: string;
  plate_off_deg: number;
  time: string;
  under_rule: string;
}

export interface SettingAnswer {
  pictured: PicturedAnswer;
  read: Record<string, string>;
  sentences: string[];
  shows: TurnAnswer;
}

export interface ShareAnswer {
  cause: string;
  deg: number;
  words: string;
}

export interface SheetAnswer {
  steps: SheetStepAnswer[];
  tables: SheetTableAnswer[];
  title: string;
}

export interface SheetLineAnswer {
  figure: string;
  sign: string;
  what: string;
}

export interface SheetStepAnswer {
  instruction: string;
  lines: SheetLineAnswer[];
  opened: OpenedAnswer[];
  takes: TakenAnswer[];
}

export interface SheetTableAnswer {
  name: string;
  title: string;
}

export type ShownValue = boolean | string;

export interface SkyAnswer {
  bodies: BodyAnswer[];
  obliquity_deg: number;
}

export interface SlipAnswer {
  mend: string;
  name: string;
  words: string;
}

export interface SpecificationAnswer {
  drawn: string | null;
  faults: FieldFault[];
  groups: FieldGroupAnswer[];
  instrument: InstrumentAnswer | null;
  lost: string[];
  text: string;
}

export interface StarAnswer {
  altitude: string;
  altitude_reads_to_text: string | null;
  designation: string;
  name: string;
}

export interface StarNearAnswer {
  away_deg: number;
  longitude_deg: number;
  near: string;
  star: string;
}

export interface StateAnswer {
  alidade_deg: number;
  plate_latitude_deg: number;
  rete_deg: number;
  rule_deg: number;
}

export interface StationAnswer {
  clock_time: string;
  jd_ut: number;
  turns: string;
}

export interface StepAnswer {
  amount_s: number;
  reason: string;
  result: string;
  what: string;
}

export interface Strip {
  spans: StripSpan[];
  what: string;
}

export interface StripSpan {
  from_s: number;
  until_s: number;
  value: string;
}

export interface SuggestionAnswer {
  latitude_deg: number;
  longitude_deg: number;
  name: string;
  why: string | null;
}

export interface SumLineAnswer {
  amount: string;
  reason: string;
  result: string;
  words: string;
}

export interface SummerTime {
  from: string;
  minutes: number;
  to: string;
}

export interface TableAnswer {
  between: BetweenAnswer[];
  columns: ColumnAnswer[];
  definitions: string[];
  interpolation: string | null;
  name: string;
  parts: PartAnswer[];
  rounding: string;
  rows: Record<string, FieldAnswer>[];
  title: string;
}

export interface TableKindAnswer {
  made_for: string;
  name: string;
  what: string;
}

export interface TablesUsedAnswer {
  hour: string;
  houses: string;
  latitude_deg: number;
  obliquity_deg: number;
  second_difference: boolean;
}

export interface TakenAnswer {
  cell: string;
  column: string;
  row: string;
  table: string;
  title: string;
}

export interface TellTaleAnswer {
  shows: string[];
  shows_deg: number[];
  slips: string[];
  words: string[];
}

export interface TellingAnswer {
  marks: WantedAnswer[];
  sentence: string;
}

export interface TimeAnswer {
  from: string;
  from_jd_ut: number;
  from_utc: string;
  holds: string[];
  lacks: string[];
  lasts_s: number;
  rank: number;
  until: string;
  until_jd_ut: number;
  until_utc: string;
}

export interface TownCard {
  equation_of_time: WeekEquation[];
  fixed_minutes: number | null;
  summer_time: SummerTime[];
  year: number;
  zone: string | null;
}

export interface TownPlates {
  advice: "plate" | "proportion" | "new-plate";
  best_plate_deg: number | null;
  card: TownCard | null;
  error: PlateErrors | null;
  latitude_deg: number;
  longitude_deg: number;
  name: string;
  proportion: Proportion | null;
}

export interface Travel {
  from_deg: number | null;
  text: string;
  until_deg: number | null;
  what: string;
}

export interface TrustAnswer {
  hand_deg: number;
  off_deg: number;
  within_deg: number;
}

export interface TurnAnswer {
  alidade: ReadAnswer;
  ascendant: ReadAnswer | null;
  date_under_alidade: string | null;
  date_under_rule: string | null;
  hour: HourAnswer;
  means: MeansAnswer | null;
  midheaven: ReadAnswer | null;
  state: StateAnswer;
  sun_altitude: ReadAnswer;
  under_pointer: PointerAnswer | null;
  under_rule: ReadAnswer | null;
  words: string;
}

export interface UnreadAnswer {
  file: string;
  why: string;
}

export interface VerdictAnswer {
  ascendant: TrustAnswer | null;
  correction: CorrectionAnswer | null;
  hangs: HangsAnswer[];
  known: string[];
  midheaven: TrustAnswer | null;
  sentence: string;
  verdict: "good" | "usable" | "not-to-be-trusted";
  ways: WayAnswer[];
  worst_cusp: WorstCuspAnswer | null;
}

export interface WantedAnswer {
  at_px: number[] | null;
  of: string;
}

export interface WayAnswer {
  ascendant_within_deg: number;
  in_full: boolean;
  midheaven_within_deg: number;
  plates: string | null;
  sentence: string;
  sun: string | null;
  verdict: "good" | "usable" | "not-to-be-trusted";
  way: "sum-in-full" | "sun-from-ephemeris" | "two-plates" | "another-instrument" | "correction-afterwards" | "curves";
  with: string | null;
  worst_cusp_within_deg: number | null;
}

export interface WeekEquation {
  day: string;
  minutes: number;
}

export interface WhenAnswer {
  calendar: string;
  clock: string;
  clock_time: string;
  delta_t_s: number;
  delta_t_uncertainty_s: number;
  given: string;
  jd_tt: number;
  jd_ut: number;
  notes: NoteAnswer[];
  utc: string;
  utc_offset_s: number | null;
  zone: string | null;
}

export interface WhyAnswer {
  ascendant: WhyOne;
  cusps: Record<string, WhyCuspAnswer[]>;
  midheaven: WhyOne;
}

export interface WhyBodyAnswer {
  difference_deg: number | null;
  exact_deg: number | null;
  name: string;
  read_deg: number | null;
  reason?: string;
  sentence: string | null;
  shares: ShareAnswer[];
}

export interface WhyCuspAnswer {
  difference_deg: number | null;
  exact_deg: number | null;
  house: number;
  read_deg: number | null;
  reason?: string;
  sentence: string | null;
  shares: ShareAnswer[];
}

export interface WhyFoundAnswer {
  ascendant: WhyOne;
  bodies: WhyBodyAnswer[];
  cusps: WhyOne[];
  fortune: WhyOne;
  midheaven: WhyOne;
}

export interface WhyOne {
  difference_deg: number | null;
  exact_deg: number | null;
  read_deg: number | null;
  reason?: string;
  sentence: string | null;
  shares: ShareAnswer[];
}

export interface WishAnswer {
  holds_s: number;
  left_s: number | null;
  means: string;
  must: boolean;
  text: string;
}

export interface WishForm {
  asks: string;
  example: string;
}

export type WithInstrument = {
  named: string;
} | {
  specification: string;
};

export interface WithinAnswer {
  bodies_deg: number[];
  cusps_deg: number[];
  fortune_deg: number;
  sidereal_time_s: number;
}

export interface WordAnswer {
  common: string[];
  meaning: string;
  older: string[];
  shows: string[];
  word: string;
}

export interface WorkAnswer {
  findings: FindingAnswer[];
  instrument: InstrumentAnswer;
  moment: MomentAnswer;
  notes: string[];
  operation: OperationAnswer;
  place: PlaceAnswer;
  seen: SeenAnswer[];
  star: string | null;
  working: WorkingAnswer;
}

export interface WorkRequest {
  body: string | null;
  hand: number | null;
  moment: CastRequest;
  of: string | null;
  operation: string;
  seen: Record<string, string>;
  side: string | null;
  star: string | null;
  told: Record<string, string>;
}

export interface WorkingAnswer {
  steps: WorkingStepAnswer[];
  title: string;
}

export interface WorkingStepAnswer {
  instruction: string;
  lines: string[];
  look_at?: DrawnPoint;
  numerals?: NumeralAnswer[];
  procedure: string | null;
  reading?: ReadAnswer;
  reason?: string;
  rete_turn_deg?: number;
  said: RunAnswer[];
  side: "front" | "back";
  state: StateAnswer;
}

export interface WorstCuspAnswer {
  hand_deg: number;
  house: number;
  off_deg: number;
  within_deg: number;
}

export interface WrongSumAnswer {
  line: number;
  makes: string;
  printed: string;
  row: string;
  sum: string;
}

export interface YearAnswer {
  begins_jd_ut: number;
  days: YearDayAnswer[];
  events: YearEventAnswer[];
  hours: PlanetHourAnswer[];
  instrument: InstrumentAnswer;
  meant: string[];
  place: PlaceAnswer;
  stars: EveningStarAnswer[];
  town: TownPlates;
  year: number;
  zone: string | null;
}

export interface YearDayAnswer {
  date: string;
  day_hour_s: number | null;
  elongation_deg: number;
  equation_of_time_s: number;
  moon_deg: number;
  night_hour_s: number | null;
  ruler: string;
  scale_deg: number | null;
  sun_deg: number;
  sunrise: string | null;
  sunset: string | null;
  weekday: string;
}

export interface YearEventAnswer {
  at: string;
  jd_ut: number;
  kind: "lunation" | "ingress" | "moon-ingress" | "station" | "appearance" | "eclipse" | "clock";
  what: string;
}

// The shapes that parts of the page hand to each other: the job as entered, what is stored, what the core is asked and
// answers.

export type Units = 'in' | 'mm'
/** What the page has no field for, carried along as it was found. */
export type Extra = Record<string, unknown>
/** The texts of fields, as typed, by their path in the job document. */
export type Settings = Record<string, string>

/** How a setting is entered, what it goes along with, and what stands for it in either unit when it is left out. */
export interface Setting {
  kind: 'length' | 'number' | 'price' | 'text'
  with: 'lot' | 'planer' | 'shop'
  in?: string | number
  mm?: string | number
}
export type BoardText = 'name' | 'width' | 'length' | 'count' | 'species' | 'density'
export type PileText = Exclude<keyof Pile, 'name'>

export interface Board {
  id: string
  name: string
  /** An empty width or length is that of the board before. */
  follows: boolean
  readings: string[]
  /** Where each of the readings was taken; empty where nobody knows. */
  places: string[]
  /** Where the reading being entered is taken. */
  spot: string
  /** The reading being entered. */
  entry: string
  width: string
  length: string
  count: string
  species: string
  density: string
  extra: Extra
}

export interface Pile {
  name: string
  thickest: string
  thinnest: string
  count: string
  widest: string
  longest: string
  species: string
  density: string
}

/** The job as it is being entered. */
export interface Draft {
  id: string
  example: boolean
  /** What its run taught is kept with the planer already. */
  taught: boolean
  /** Of its run something was done on this page, and not only opened. */
  here: boolean
  title: string
  units: Units
  settings: Settings
  boards: Board[]
  pile: Pile
  extra: Extra
  /** When it was last changed [ms]; 0 where nobody knows. */
  touched?: number
}

/** The board in hand, and its reading that is being changed. */
export interface Hand {
  board: string
  chosen: number | null
}
/** A step with the boards takes these two and returns both anew. */
export interface Held {
  draft: Draft
  hand: Hand
}

/** A job document, of this page or from elsewhere. */
export type JobDocument = Record<string, unknown>
/** A field of the page, and its path in the document. */
export type Place = [field: string, path: string]

/** One thing that was done, measured or seen at the machine; its keys are the document's. */
export type RunEvent = {did?: unknown; after?: number; readings?: string[]} & Record<string, unknown>
export type Part = Record<string, unknown>
/** A bad stretch of a board. */
export interface Defect {
  board: string
  from: string
  to: string
}
/** What was learned of a planer; the core's to read. */
export type PlanerRecord = Record<string, unknown>

// ------------------------------------------------------------------ what is stored

export type View = 'lot' | 'planer' | 'plan' | 'jobs' | 'run' | 'more'
export type Way = 'pile' | 'boards'
/** The finest mark that a reading is read to: 1/16, 1/32, 1/64 inch, 0.1 mm, the digits of a caliper, 0.001 inch, 0.02 mm. */
export type Scale = 16 | 32 | 64 | 'tenths' | 'digits' | 'thousandths' | 'fiftieths'

/** Where the person was. */
export interface Now {
  job: string
  units: Units
  board: string
  view: View
  way: Way
  keys: boolean
  scale: Scale
}

/** A planer kept on this device. */
export interface Planer {
  id: string
  name: string
  units: Units
  settings: Settings
  record?: PlanerRecord
}

/** An entry of a planer's book; the core's to read. */
export type BookEntry = Record<string, unknown>

/** The last answer's html, and the document (as text) that it was made of. */
export interface KeptAnswer {
  job: string
  of: string
  html: Html
}

/** A text that could not be read, set aside as it was found under `key`. */
export interface AsideEntry {
  key: string
  text: string
}

/** An entry of the store as it was parsed: of any version, age or state, so nothing in it is sure. */
export type StoredEntry = {v?: unknown} & Record<string, unknown>

/** What may be wrong with keeping. */
export type Trouble = 'forbidden' | 'full' | 'filling' | 'damaged' | 'newer' | 'unshown'

export type Store = import('../kept/storage.js').Store
export type State = import('./state.js').State
/** The page as it was, for undo. */
export type Snapshot = Pick<State, 'draft' | 'hand' | 'view' | 'way'>
/** One change taken back: whether what it changed is still as it made it, and the doing. */
export interface WayBack {
  still: () => boolean
  back: () => void
}
/** Offers to take back what `text` says. */
export type OfferUndo = (text: string, way: WayBack) => void

// ------------------------------------------------------------------ what the core is asked and answers

/** Markup that only the core made, by the name of its place. */
export type Html = Record<string, string>

export interface Problem {
  /** The path in the document. */
  at: string
  text: string
  /** Texts any of which, entered in the field, settle it. */
  cures?: string[]
  /** The text as it is said beside the field, whose label names it. */
  short?: string
}

/** What each question is answered with. */
export interface Answers {
  show: {understood: Record<string, string>; html: Html; plan?: {notes: Problem[]}}
  mechanics: {html: Html}
  follow: {run: {step: {kind: string}}; html: Html}
  rehearse: {frames: string[]}
  more: {html: Html}
  event: object
  why: {html: Html}
  species: {species: {name: string}[]; html: Html}
  split: {jobs: JobDocument[]}
  learn: {record: PlanerRecord; settings: Settings}
  scrap: {record: PlanerRecord; entry: BookEntry; html: Html}
  book: {book: BookEntry[]; record: PlanerRecord | null; settings: Settings; html: Html}
  'book-csv': {text: string}
  'which-planer': {html: Html}
  slab: {html: Html}
  buy: {html: Html}
  table: {boards: JobDocument[]; html: Html}
  csv: {text: string}
  link: {link: string}
  code: {html: Html}
  open: {job: JobDocument}
  sheet: {html: Html}
  tags: {html: Html}
  report: {html: Html}
}
export type Refusal = {
  ok: false
  problems: Problem[]
  understood?: Record<string, string>
  html?: Html
}
export type Answer<K extends keyof Answers> = ({ok: true} & Answers[K]) | Refusal
export type Question<K extends keyof Answers> = {ask: K} & Record<string, unknown>
/** Asks the core; null when a later question of the same lane took its place, or the core stopped. */
export type Ask = <K extends keyof Answers>(question: Question<K>, lane?: string) => Promise<Answer<K> | null>

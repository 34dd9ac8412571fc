// Shapes that several modules share. A screen place has `left` and `top` in CSS pixels, a place on
// the piece has `x` and `y` in mm (right and down from the box's top left corner): the two cannot
// be mistaken for each other.

/** Millimetres right and down from the top left corner of the blank's box. */
export interface PagePoint { x: number; y: number }

/** CSS pixels right and down from the top left corner of the board's canvas. */
export interface ScreenPoint { left: number; top: number }

/** A box on the piece, mm. */
export interface PageBox { x: number; y: number; width: number; height: number }

export type Finish = 'foiled' | 'rainbow' | 'clear' | 'metallic' | 'pearl';

/** A kind of stone as the board draws it. */
export interface BoardKind {
  name: string;
  drawn_mm: number;
  /** `#rrggbb`. */
  colour: string;
  finish: Finish;
  /** A letter or shape that tells the kind apart without its colour. */
  mark: string;
}

/** What the server says of one piece at one revision. */
export interface BoardData {
  revision: number;
  piece: string;
  hash: string;
  width_mm: number;
  height_mm: number;
  blank: { colour: string; path: string };
  zones: { name: string; path: string }[];
  kinds: BoardKind[];
  /** One column for each fact; index + 1 is the place number in bench order. */
  stones: {
    x: number[]; y: number[]; turn_deg: number[]; kind: number[];
    zone: number[]; row: number[]; by_hand: number[];
  };
  bare_spots: { x: number; y: number; diameter_mm: number }[];
  /** Where a stone can be added: bare spots within one zone. */
  zone_spots: { x: number; y: number; diameter_mm: number }[];
  stretches: { number: number; zone: string; order: number[] }[];
}

/** The stones as typed columns, changes that wait for their answer worked in. */
export interface Stones {
  n: number;
  x: Float64Array; y: Float64Array; turn_deg: Float32Array;
  kind: Int32Array; zone: Int32Array; row: Int32Array;
  by_hand: Uint8Array;
  /** 1 where the server has not answered yet. */
  waiting: Uint8Array;
  /** Place number in bench order; 0 for a stone that the server has not placed yet. */
  place: Uint32Array;
  /** Radius, mm. */
  radius: Float32Array;
}

/** One change by hand, mm right and down. */
export type HandOp =
  | { set: [number, number]; kind: string; turn_deg?: number }
  | { clear: [number, number] }
  | { recolour: [number, number]; kind: string };

/** The detail of the event `stonelay:change-by-hand`. */
export interface HandChange {
  /** Counts up on one board; give it back to `setData` or `takeBack`. */
  id: number;
  ops: HandOp[];
}

export type Tool = 'look' | 'move' | 'take_away' | 'add' | 'recolour' | 'pin';

/** What is laid over the stones. */
export interface LaidOver {
  bare_spots: boolean; rows: boolean; order: boolean; numbers: boolean;
  sizes: boolean; marks: boolean; zones: boolean; stretches: boolean;
}

/** Place numbers from `first` to `last`, both included. */
export interface PlaceRange { first: number; last: number }

/** What a true-size view rests on. */
export interface Calibration {
  /** Pixels of the screen itself in a millimetre. */
  device_px_per_mm: number;
  /** `devicePixelRatio` when it was calibrated. */
  pixel_ratio: number;
  /** Day of calibration, ISO 8601. */
  day: string;
}

/** What the server says after a change of a document. */
export interface Changed {
  revision: number;
  /** What undo would take back, in words. */
  undo: string | null;
  redo: string | null;
}

/** One thing that is wrong, and the path of the key it is about. */
export interface FaultAt { path?: string; place: string; text: string; hint?: string }

/** `application/problem+json`, RFC 9457. */
export interface Problem {
  type: string;
  status: number;
  title: string;
  detail?: string;
  faults?: FaultAt[];
}

/** How far some work has come. */
export interface Progress { what: string; done: number; total: number; over: boolean }

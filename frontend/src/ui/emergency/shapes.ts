/** The emergency cards as their data file holds them. */
export interface CardLine {
  t: string;
  /** Keys of the sources it stands on. */
  source: string[];
  /** What to hold to where the sources disagree. */
  differ?: string;
}
export interface Source {
  title: string;
  year: string;
  publisher: string;
}
export const PARTS = ["first", "signs", "never", "call"] as const;
export type Card = { name: string; note: string; about: CardLine } & Record<(typeof PARTS)[number], CardLine[]>;
export interface Cards {
  sources: Record<string, Source>;
  cards: Record<string, Card>;
}

/** What the usual measures of a kitchen and a feed room hold, in ml. */
export const ML = { cup: 237, half_l: 500, qt: 946, dry_qt: 1101, l: 1000 };

export type Volume = keyof typeof ML;

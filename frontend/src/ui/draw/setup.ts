// Our own drawings for a new farm, on a field of 120 by 84: what is told apart by eye before it has a name.

/** A doe from the side, her feet on y 78. */
export const DOE =
  "M13 33L22 20L31 19Q36 30 46 32H84Q95 32 97 43L96 56L97 78H91L87 59Q76 53 66 57Q56 60 49 56L49 78H43L41 55Q33 47 31 36" +
  "L22 40Q14 40 13 33Z";
export const DOE_EAR = "M30 20Q38 21 41 28Q34 29 29 25M26 19Q27 8 37 6M20 40Q20 45 22 48M96 36Q101 33 102 26";
export const DOE_LEGS = "M54 58L55 78M83 56L80 78";
export const BAG = "M70 56Q69 70 78 70Q87 70 87 58M75 70V74M81 70V73";
/** Rails she stands behind: the same for every size. */
export const RAILS = "M2 30H118M2 52H118M8 22V82M112 22V82";

const blade = (x: number, lean: number, top: number) => `M${x} 78Q${x + lean * 0.3} ${top + 22} ${x + lean} ${top}`;
export const HAY: Record<string, string> = {
  leafy: [
    blade(30, -22, 26), blade(38, -16, 12), blade(46, -6, 6), blade(56, 4, 4), blade(64, 10, 8), blade(72, 16, 12),
    blade(80, 24, 22), blade(50, -14, 30), blade(68, 20, 34), blade(42, -28, 44), blade(76, 32, 48),
  ].join(""),
  grass: [
    blade(34, -18, 24), blade(44, -8, 8), blade(54, 2, 14), blade(64, 10, 6), blade(74, 18, 26),
    "M36 8l-3 8M40 8l2 8M74 6l-3 8M78 7l2 7",
  ].join(""),
  stemmy: "M36 78L30 12M50 78L48 6M66 78L70 6M82 78L90 14M40 40L24 30M78 44L98 34" +
    "M30 12l-5-7M30 12l5-7M48 6l-4 9M48 6l4 9M70 6l-4 9M70 6l4 9M90 14l-4-8M90 14l6-6",
  alfalfa: "M40 78Q38 40 46 12M80 78Q84 44 74 14M60 78V8" +
    [[46, 12], [42, 34], [41, 54], [74, 14], [80, 36], [82, 56], [60, 8], [60, 30], [60, 52]]
    .map(([x, y]) => `M${x} ${y}q-10-2-11 6q8 3 11-6q10-2 11 6q-8 3-11-6`).join(""),
  mixed: blade(30, -16, 18) + blade(40, -6, 6) + blade(48, 2, 14) + "M80 78Q84 44 74 14M64 78V20" +
    [[74, 14], [80, 36], [82, 56], [64, 20], [64, 46]]
      .map(([x, y]) => `M${x} ${y}q-9-2-10 6q7 3 10-6q9-2 10 6q-7 3-10-6`).join(""),
  oat: "M38 78Q40 40 34 10M60 78V8M82 78Q80 44 88 12" +
    [[34, 12], [35, 24], [60, 10], [60, 24], [88, 14], [86, 27]]
      .map(([x, y]) => `M${x} ${y}q-9 4-8 13q7-3 8-13q9 4 8 13q-7-3-8-13`).join(""),
};
/** A flake on edge: thin, middling, thick. */
export const SLICE: Record<string, string> = {
  thin: "M44 30L88 14V56L44 74ZM44 30L36 26V70L44 74ZM44 30L36 26L80 10L88 14Z",
  middling: "M50 32L94 16V58L50 76ZM50 32L32 24V68L50 76ZM50 32L32 24L76 8L94 16Z",
  thick: "M58 36L102 20V60L58 78ZM58 36L24 22V64L58 78ZM58 36L24 22L68 6L102 20Z",
};

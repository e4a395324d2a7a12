// A feed scoop from the side on a field of 120 by 84: the rim at y 34, the grip to the right.
export const BOWL = "M12 34H88L81 68C80 73 77 75 72 75H28C23 75 20 73 19 68Z";
export const GRIP = "M87 40H108C115 40 115 50 108 50H85";
/** Struck level: the feed ends at the rim, and a straight edge lies on it. */
export const EDGE = "M4 29H98";
export const STRUCK = "M20 42h.1M33 46h.1M47 42h.1M61 46h.1M75 42h.1M27 55h.1M41 58h.1M55 55h.1M69 58h.1";
/** Heaped: nobody heaps the same twice. */
export const HEAP = "M13 34C22 16 34 6 49 6C65 6 78 17 87 34Z";
export const LOOSE = "M34 24h.1M44 15h.1M56 17h.1M66 25h.1M50 27h.1";
/** A bale from its end, and one flake come away from it. */
export const BALE = "M6 24L58 8L74 15V55L22 74L6 64ZM6 24L22 32L74 15M22 32V74";
export const STRINGS = "M20 20L36 27V69M40 14L56 21V62";
export const FLAKE = "M86 18L98 14L112 20V58L100 63L86 56ZM86 18L100 25L112 20M100 25V63";

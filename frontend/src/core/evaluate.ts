import type { Book } from "./book.ts";
import type { View } from "./state/view.ts";
import type { OutlookDoc } from "./sync/wire.ts";
export interface Results { does: Record<string, never>; pens: Record<string, never> }
export function evaluate(_v: View, _o: Record<string, OutlookDoc>, _b: Book, _d: string): Results { return { does: {}, pens: {} }; }

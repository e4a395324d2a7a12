import type { Doors } from "../../tables/wire.ts";
import type { Call } from "./http.ts";

/**
 * What core/tables/wire.ts says of an answer, as the client goes by it. They all name parts of T: one that the server
 * calls otherwise from now on, or gives another form, no longer compiles.
 */

/** Some of its parts in the client's own types, which must be of the form the server promises. */
export type Narrowed<T, R extends { [K in keyof R]: K extends keyof T ? T[K] : never }> = Omit<T, keyof R> & R;

/** Parts of it by types that ask less of the server than it promises. */
export type Instead<T, R extends { [K in keyof R]: K extends keyof T ? unknown : never }> = Omit<T, keyof R> & R;

/** Parts that servers of before do not say. */
export type Since<T, K extends keyof T> = Omit<T, K> & Partial<Pick<T, K>>;

/** Only K is looked at where it comes in; all others may be missing. */
export type Sure<T, K extends keyof T> = Pick<T, K> & Partial<Omit<T, K>>;

/** A request to a door of the API, to be held against its address there: `{ method, path } satisfies At<"pull">`. */
export type At<D extends keyof Doors> = Pick<Doors[D], "method" | "path"> & Omit<Call, "method" | "path">;

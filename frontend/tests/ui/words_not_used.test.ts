import { expect, test } from "vitest";
import cards from "../../src/texts/cards.en.json";
import english from "../../src/texts/en.json";
import spanish from "../../src/texts/es.json";

/** A neighbour says it across the fence otherwise: what she is losing, what is worked out, most likely. */
const NOT_USED = {
  en: [
    "reckon", "of hers", "asks for", "off her back", "borne out", "look twice", "four times in five", "much speaks",
    "nothing much", "staying alive", "permille", "does she leave", "ring the vet", "ring again", "so near kidding",
    "shown otherwise", "step louder", "reads short", "read her ketones", "fed below need", "fed above need",
    "grain held", "calm {name}", "hay lot", "the book", "next sending", "eyelid colour",
  ],
  es: [
    "leche retenida", "carne retenida", "mantenerse viva", "cuatro de cada cinco", "mucho apunta",
    "le habla a su vientre", "permil", "antes de culpar", "lo retenido", "no quiso escribir", "lugares principales",
    "señas de parto", "afloje", "mírela", "mire ahora", "puntéela", "puntúe", "boñiga", "apunte ", "apuntad", "sólo",
    "en seguida", "salía de cuentas", "del libro", "próximo envío",
  ],
};

function found(texts: unknown, words: string[]): string[] {
  const said = JSON.stringify(texts).toLowerCase();
  return words.filter((word) => said.includes(word));
}

test.each([["texts", english], ["cards", cards]])("the English %s say it as a good neighbour would", (_, texts) => {
  expect(found(texts, NOT_USED.en)).toEqual([]);
});

test("so does the Spanish", () => {
  expect(found(Object.values(spanish), NOT_USED.es)).toEqual([]);
});

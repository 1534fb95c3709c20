// Which characters of a sentence are which spoken word, so that words can light up and be clicked. Pure.

const bare = (text) => text.toLowerCase().replace(/[^\p{L}\p{N}.°%]/gu, "");

/**
 * The sentence in pieces, in order and without gaps: {from, to, word} where `word` is the index of a spoken word or null.
 * A word that was mended and so is not found as heard is left out; the characters between belong to no word.
 */
export function align(text, words) {
  const pieces = [];
  let done = 0;
  words.forEach((word, index) => {
    const wanted = word.text.trim();
    if (!wanted) return;
    let from = text.indexOf(wanted, done);
    let length = wanted.length;
    if (from < 0 || from - done > 40) {
      const simple = bare(wanted);
      from = simple ? text.toLowerCase().indexOf(simple, done) : -1;
      length = simple.length;
    }
    if (from < 0 || from - done > 40) return;
    if (from > done) pieces.push({ from: done, to: from, word: null });
    pieces.push({ from, to: from + length, word: index });
    done = from + length;
  });
  if (done < text.length) pieces.push({ from: done, to: text.length, word: null });
  return pieces;
}

/** The pieces cut further at the edges of `spans`, each with the spans' names that cover it. */
export function covered(pieces, spans) {
  const cut = [];
  for (const piece of pieces) {
    const edges = new Set([piece.from, piece.to]);
    for (const { span } of spans) for (const edge of span) if (edge > piece.from && edge < piece.to) edges.add(edge);
    const sorted = [...edges].sort((one, other) => one - other);
    for (let index = 1; index < sorted.length; index += 1) {
      const [from, to] = [sorted[index - 1], sorted[index]];
      const names = spans.filter(({ span }) => span[0] <= from && span[1] >= to).map(({ name }) => name);
      cut.push({ from, to, word: piece.word, names });
    }
  }
  return cut;
}

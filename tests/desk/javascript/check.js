// What the tests of the desk's modules say of values. Each throws where it is not so.

export function equal(got, wanted) {
  const [one, other] = [got, wanted].map((value) => JSON.stringify(value));
  if (one !== other) throw new Error(`${one} is not ${other}`);
}

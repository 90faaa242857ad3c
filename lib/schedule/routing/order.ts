/** Sorts the first `count` of a short list by the key of each, then by number; allocates nothing. */
export function sortByKey(list: Int32Array, count: number, key: Float64Array): void {
  for (let i = 1; i < count; i++) {
    const v = list[i]!;
    let j = i;
    for (; j > 0; j--) {
      const u = list[j - 1]!;
      if (key[u]! < key[v]! || (key[u] === key[v] && u < v)) break;
      list[j] = u;
    }
    list[j] = v;
  }
}

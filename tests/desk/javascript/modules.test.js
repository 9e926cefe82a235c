import { state } from "/pages/state.js";
import { equal } from "./check.js";

export async function the_marking_desk_loads_with_its_table_of_keys() {
  state.site = { kinds: [{ kind: "line", letter: "l" }] };
  await import("/pages/marking.js");
  const { KEYS } = await import("/pages/markingkeys.js");
  equal(
    KEYS.filter((row) => !row.words || !row.group || !row.act),
    [],
  );
}

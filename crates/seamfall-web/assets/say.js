// Words of the scripts in the language of the page. English is the key; another language comes as `words` (`/assets/words.js`).
"use strict";

/** A sentence with its names filled in from `values`; of two, the first for one, by the count `n` of `values`. */
function say(one, many, values) {
  if (typeof many !== "string") [many, values] = [undefined, many];
  let text = many === undefined || values.n === 1 ? one : many;
  if (typeof words !== "undefined") {
    const found = words[many === undefined ? one : `${one}|${many}`];
    text = found?.forms ? found.forms[found.of[values.n < 200 ? values.n : 100 + values.n % 100]] : found ?? text;
  }
  return text.replace(/\{(\w+)\}/g, (braced, name) => values?.[name] ?? braced);
}

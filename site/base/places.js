// From a path in the job document, as a problem names it, to the field of the page that stands there.

/** @import {Place} from './types.js' */

/** @param {string} longer @param {string} shorter */
const isInside = (longer, shorter) => longer.startsWith(shorter) && /^[.[]|^$/.test(longer.slice(shorter.length))

/**
 * The field at a path, else the first inside it, else the nearest around it.
 * @param {Place[]} places
 * @param {string} path
 */
export function fieldOf(places, path) {
  const found =
    places.find(([, at]) => at === path) ??
    places.find(([, at]) => isInside(at, path)) ??
    places.findLast(([, at]) => isInside(path, at)) ??
    places.find(([field]) => field === path)
  return found?.[0]
}

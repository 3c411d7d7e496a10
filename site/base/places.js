// Paths in the job document, as a problem names them, and the places of the page that stand for them.

/** @import {Place} from './types.js' */

/** The names and numbers that a path is made of. @param {string} path */
export const stepsOf = (path) => path.replaceAll('[', '.').replaceAll(']', '').split('.')

/** Whether a path is another one or leads into it. @param {string} longer @param {string} shorter */
export const isInside = (longer, shorter) =>
  longer.startsWith(shorter) && ['.', '[', undefined].includes(longer[shorter.length])

/** The path that a path is in; empty at the top. @param {string} path */
export const above = (path) => path.slice(0, Math.max(path.lastIndexOf('.'), path.lastIndexOf('['), 0))

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

/**
 * What a field of the page names of a board, like b:3.readings.2 or b:3.width; null for one of no board.
 * @param {string} field
 */
export function inBoard(field) {
  const [board, part, reading] = field.split('.')
  if (!board.startsWith('b:')) return null
  return {id: board.slice(2), part, reading: reading === undefined ? null : Number(reading)}
}

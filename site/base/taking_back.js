// A change of a draft is taken back: what it changed becomes what it was, and whatever came after stays. Pure functions.

import {toDocument} from './document.js'
import {inLot, namedBeside, runOf} from './job.js'

/** @import {Board, Draft} from './types.js' */

/** @param {unknown} one @param {unknown} other */
const same = (one, other) => JSON.stringify(one) === JSON.stringify(other)
/** @param {Board[]} boards @param {string} id */
const withId = (boards, id) => boards.find((board) => board.id === id)

/** Nothing that a document holds differs. @param {Draft} one @param {Draft} other */
export const isSameLot = (one, other) => same(toDocument(one).job, toDocument({...other, title: one.title}).job)

/**
 * `now` without what changed from `before` to `after`; null once that was changed again, or the run went on.
 * @param {Draft} before
 * @param {Draft} after
 * @param {Draft} now
 * @returns {Draft | null}
 */
export function takenBack(before, after, now) {
  if (now.id !== after.id || now.units !== after.units || !same(runOf(now), runOf(after))) return null
  const settings = keysBack(before.settings, after.settings, now.settings)
  const pile = keysBack(before.pile, after.pile, now.pile)
  const extra = keysBack(before.extra, after.extra, now.extra)
  const boards = boardsBack(before.boards, after.boards, now.boards)
  return settings && pile && extra && boards && {...now, settings, pile, extra, boards}
}

/**
 * @template {object} T
 * @param {T} before
 * @param {T} after
 * @param {T} now
 * @returns {T | null}
 */
function keysBack(before, after, now) {
  const made = {...now}
  const keys = new Set([...Object.keys(before), ...Object.keys(after)])
  for (const key of /** @type {Set<keyof T>} */ (keys)) {
    if (same(before[key], after[key])) continue
    if (!same(now[key], after[key])) return null
    if (key in before) made[key] = before[key]
    else delete made[key]
  }
  return made
}

/** @param {Board[]} before @param {Board[]} after @param {Board[]} now */
function boardsBack(before, after, now) {
  /** @type {Board[]} */
  const boards = []
  for (const made of after) if (!withId(now, made.id) && !same(withId(before, made.id), made)) return null
  for (const board of now) {
    const was = withId(before, board.id)
    const made = withId(after, board.id)
    if (made && !was && same(board, made)) continue
    if (made && !was && inLot(made)) return null
    const back = was && made ? keysBack(was, made, board) : board
    if (!back) return null
    boards.push(back)
  }
  for (const [n, board] of before.entries()) {
    if (withId(after, board.id)) continue
    if (withId(now, board.id)) return null
    const above = before.slice(0, n).findLast(({id}) => withId(boards, id))
    const at = above ? boards.findIndex(({id}) => id === above.id) + 1 : 0
    boards.splice(at, 0, ...namedBeside([board], boards))
  }
  return boards
}

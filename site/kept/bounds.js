// How deep and how long anything may be that comes in: a file, a link, an entry of the store. Pure, and a walk that
// cannot overflow.

/** Lists and objects in each other; a job has half as many at most. The core takes no more either. */
export const DEEPEST = 32
/** Far more than a device keeps of one job [characters]. */
const LONGEST = 40_000_000

/** Whether a value is nested no deeper than anything that Thickset writes. @param {unknown} value */
export function isWithin(value, deepest = DEEPEST) {
  let level = [value]
  for (let depth = 0; level.length; depth += 1) {
    /** @type {unknown[]} */
    const below = []
    for (const one of level) {
      if (typeof one !== 'object' || one === null) continue
      if (depth >= deepest) return false
      for (const inside of Object.values(one)) below.push(inside)
    }
    level = below
  }
  return true
}

/** The value of a JSON text; null where it is none, is too long or is nested too deep. @param {string} text */
export function readBounded(text) {
  if (text.length > LONGEST) return null
  try {
    /** @type {unknown} */
    const value = JSON.parse(text)
    return isWithin(value) ? value : null
  } catch {
    return null
  }
}

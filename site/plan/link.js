// What the address of a plan begins with.

export const PLAN = '#plan='

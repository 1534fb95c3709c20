// The lines of the check sheet.

/** Whether an item wants a mark; good retail practices are marked only when out of compliance. */
export const asksFor = (item) => item.allowed.length > 1;

/** The items that want a mark and have none. */
export const unmarkedOf = (marks) => marks.filter((item) => !item.mark && asksFor(item));

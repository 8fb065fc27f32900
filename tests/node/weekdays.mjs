// What two lists of public holidays say of the same weekdays. Only weekdays are compared: of a holiday on a weekend that is kept on
// another day one list has both days, the other the day that is kept.

export const from = 2025;
export const through = 2028;

/** Every Monday to Friday of some years, YYYY-MM-DD. */
export function weekdays(firstYear, lastYear) {
  const days = [];
  for (let day = Date.UTC(firstYear, 0, 1); day < Date.UTC(lastYear + 1, 0, 1); day += 86_400_000) {
    const weekday = new Date(day).getUTCDay();
    if (weekday !== 0 && weekday !== 6) {
      days.push(new Date(day).toISOString().slice(0, 10));
    }
  }

  return days;
}

/**
 * The weekdays that are a holiday in one list and none in the other.
 * @param {Map<string, string>} ours names by date
 * @param {Map<string, string>} theirs names by date
 * @returns {{ date: string, ours?: string, theirs?: string }[]}
 */
export function disagreements(ours, theirs, days = weekdays(from, through)) {
  return days
    .filter(date => ours.has(date) !== theirs.has(date))
    .map(date => ({ date, ours: ours.get(date), theirs: theirs.get(date) }));
}

/** Days from 1970-01-01 to a date of the Gregorian calendar; NaN for a date that is none. Method: H. Hinnant, chrono-compatible low-level date algorithms. */
export function daysFromCivil(year: number, month: number, day: number): number {
  if (!(month >= 1 && month <= 12) || !(day >= 1 && day <= daysInMonth(year, month))) return NaN;
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * 146_097 + dayOfEra - 719_468;
}

function daysInMonth(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}

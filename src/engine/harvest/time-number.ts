/** Seconds of the day in a clock written as one number, 134509 for 13:45:09 (a fraction is of the second); NaN for a number that is none. */
export function secondsOfClockNumber(value: number): number {
  const whole = Math.floor(value);
  const [h, min, s] = [Math.floor(whole / 10_000), Math.floor(whole / 100) % 100, whole % 100];
  return value >= 0 && h < 24 && min < 60 && s < 60 ? h * 3600 + min * 60 + s + (value - whole) : NaN;
}

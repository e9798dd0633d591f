/** A column name reduced to what people agree on: lower-case letters and digits ('GPS_Long.' and 'gpslong' are one). */
export function columnKey(name: string): string {
  return name.toLowerCase().replace(/[^a-z0-9]/g, '');
}

import type { FileBytes } from '../file-bytes.ts';

/** The file of a task data set that names the others. */
export function isTaskFile(name: string): boolean {
  return baseName(name).toLowerCase() === 'taskdata.xml';
}

/** True for what may belong to a task file that lies in the same folder: its grids, external files and logs. */
export function belongsToTaskFile(name: string): boolean {
  return /\.(bin|xml)$/i.test(name);
}

/** The folder of a file in lower case, members of an archive included; '' for a bare name. */
export function folderOf(name: string): string {
  return name.slice(0, name.length - baseName(name).length).toLowerCase();
}

export function baseName(name: string): string {
  const member = name.slice(name.lastIndexOf('›') + 1).trimStart();
  return member.slice(Math.max(member.lastIndexOf('/'), member.lastIndexOf('\\')) + 1);
}

/** The members called `base` (`GRD00001.bin`), any case. */
export function membersNamed(files: readonly FileBytes[], base: string): FileBytes[] {
  return files.filter(({ name }) => baseName(name).toLowerCase() === base.toLowerCase());
}

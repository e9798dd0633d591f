/** Names each with an index; those that differ only in case and blanks are one, as first written. */
export class NameBook {
  readonly names: string[] = [];
  private readonly known = new Map<string, number>();
  private readonly spellings: Set<string>[] = [];

  /** `apart` keeps two of one name apart. */
  indexOf(name: string, apart = ''): number {
    const plain = name
      .normalize('NFC')
      .replace(/[\s\p{Cc}]+/gu, ' ')
      .trim();
    const key = `${plain.replaceAll(' ', '').toLowerCase()}\u0001${apart}`;
    const index = this.known.get(key) ?? this.names.length;
    if (index === this.names.length) {
      this.known.set(key, index);
      this.names.push(plain);
      this.spellings.push(new Set());
    }
    this.spellings[index].add(plain);
    return index;
  }

  /** Names that were written in several ways, each as `Sora 105 (also SORA 105)`. */
  get variants(): string[] {
    return this.names.flatMap((name, index) => {
      const others = [...this.spellings[index]].filter((own) => own !== name);
      return others.length > 0 ? [`${name} (also ${others.slice(0, 5).join(', ')})`] : [];
    });
  }
}

/**
 * The upper halves (bytes 128 to 255) of the DOS code pages that no platform decodes but old tables and archives are written in.
 * From the mapping files CP437.TXT, CP850.TXT and CP852.TXT of the Unicode Consortium (VENDORS/MICSFT/PC); `\u00a0` is the no-break space, `\u00ad` the soft hyphen.
 */
const UPPER_HALF = {
  cp437:
    'ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜ¢£¥₧ƒáíóúñÑªº¿⌐¬½¼¡«»░▒▓│┤╡╢╖╕╣║╗╝╜╛┐└┴┬├─┼╞╟╚╔╩╦╠═╬╧╨╤╥╙╘╒╓╫╪┘┌█▄▌▐▀αßΓπΣσµτΦΘΩδ∞φε∩≡±≥≤⌠⌡÷≈°∙·√ⁿ²■\u00a0',
  cp850:
    'ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜø£Ø×ƒáíóúñÑªº¿®¬½¼¡«»░▒▓│┤ÁÂÀ©╣║╗╝¢¥┐└┴┬├─┼ãÃ╚╔╩╦╠═╬¤ðÐÊËÈıÍÎÏ┘┌█▄¦Ì▀ÓßÔÒõÕµþÞÚÛÙýÝ¯´\u00ad±‗¾¶§÷¸°¨·¹³²■\u00a0',
  cp852:
    'ÇüéâäůćçłëŐőîŹÄĆÉĹĺôöĽľŚśÖÜŤťŁ×čáíóúĄąŽžĘę¬źČş«»░▒▓│┤ÁÂĚŞ╣║╗╝Żż┐└┴┬├─┼Ăă╚╔╩╦╠═╬¤đĐĎËďŇÍÎě┘┌█▄ŢŮ▀ÓßÔŃńňŠšŔÚŕŰýÝţ´\u00ad˝˛ˇ˘§÷¸°¨˙űŘř■\u00a0',
} as const;

export type DosPage = keyof typeof UPPER_HALF;

export function isDosPage(label: string): label is DosPage {
  return Object.hasOwn(UPPER_HALF, label);
}

export function decodeDos(bytes: Uint8Array, page: DosPage): string {
  const upper = UPPER_HALF[page];
  return Array.from(bytes, (byte) => (byte < 128 ? String.fromCharCode(byte) : upper[byte - 128])).join('');
}

/** A page of text as a file of the Portable Document Format (ISO 32000-1), with nothing but its lines. */
export function textPage(lines: readonly string[]): Uint8Array {
  const escaped = lines.map((line) => line.replace(/[\\()]/g, (sign) => `\\${sign}`));
  const text = escaped.map((line) => `(${line}) Tj T*`).join('\n');
  const content = `BT /F1 11 Tf 15 TL 60 780 Td\n${text}\nET`;
  const objects = [
    '<< /Type /Catalog /Pages 2 0 R >>',
    '<< /Type /Pages /Kids [3 0 R] /Count 1 >>',
    '<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R >> >> >>',
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
    '<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>',
  ];
  let file = '%PDF-1.4\n';
  const offsets = objects.map((object, index) => {
    const offset = file.length;
    file += `${index + 1} 0 obj\n${object}\nendobj\n`;
    return offset;
  });
  const rows = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`).join('');
  const size = objects.length + 1;
  const table = `xref\n0 ${size}\n0000000000 65535 f \n${rows}`;
  const end = `trailer\n<< /Size ${size} /Root 1 0 R >>\nstartxref\n${file.length}\n%%EOF\n`;
  return new TextEncoder().encode(file + table + end);
}

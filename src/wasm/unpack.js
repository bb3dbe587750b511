// The module of what cmake/pack_module.py made of it. It is raw LZMA1 with lc 4, lp 0 and pb 0.
// Source: the LZMA specification that accompanies the LZMA SDK (public domain), from memory; judged by Python's lzma, which packs.
function skerryUnlzma(from, size) {
  const out = new Uint8Array(size);
  const bits = (count) => new Uint16Array(count).fill(1024);
  const literals = bits(16 * 0x300), match = bits(12), rep = bits(12), rep0 = bits(12), rep1 = bits(12), rep2 = bits(12);
  const rep0Long = bits(12), slots = [bits(64), bits(64), bits(64), bits(64)], special = bits(128), align = bits(16);
  // A length: which of three trees, and the trees (positions are not told apart, pb is 0).
  const lengths = () => ({ choice: bits(2), low: bits(8), middle: bits(8), high: bits(256) });
  const matchLength = lengths(), repLength = lengths();
  let at = 5, range = -1 >>> 0, code = 0;
  for (let i = 1; i < 5; ++i) code = (code << 8 | from[i]) >>> 0;

  const bit = (model, i) => {
    const p = model[i];
    const bound = (range >>> 11) * p;
    let got = 0;
    if (code < bound) {
      range = bound;
      model[i] = p + (2048 - p >> 5);
    } else {
      code -= bound;
      range -= bound;
      model[i] = p - (p >> 5);
      got = 1;
    }
    if (range < 16777216) {
      range = range << 8 >>> 0;
      code = (code << 8 | from[at++]) >>> 0;
    }
    return got;
  };
  const tree = (model, depth) => {
    let m = 1;
    for (let i = 0; i < depth; ++i) m = m << 1 | bit(model, m);
    return m - (1 << depth);
  };
  const treeUpwards = (model, offset, depth) => {
    let m = 1, value = 0;
    for (let i = 0; i < depth; ++i) {
      const got = bit(model, offset + m);
      m = m << 1 | got;
      value |= got << i;
    }
    return value;
  };
  const plainBits = (count) => {
    let value = 0;
    for (let i = 0; i < count; ++i) {
      range >>>= 1;
      const got = code >= range ? 1 : 0;
      if (got) code -= range;
      if (range < 16777216) {
        range = range << 8 >>> 0;
        code = (code << 8 | from[at++]) >>> 0;
      }
      value = value << 1 | got;
    }
    return value;
  };
  const length = (of) => {
    if (!bit(of.choice, 0)) return tree(of.low, 3);
    return bit(of.choice, 1) ? 16 + tree(of.high, 8) : 8 + tree(of.middle, 3);
  };

  let state = 0, d0 = 0, d1 = 0, d2 = 0, d3 = 0;
  for (let n = 0; n < size;) {
    if (!bit(match, state)) {
      const base = 0x300 * (n > 0 ? out[n - 1] >> 4 : 0);
      let symbol = 1;
      if (state >= 7) {
        let other = out[n - d0 - 1];
        do {
          const expected = other >> 7 & 1;
          other <<= 1;
          const got = bit(literals, base + (1 + expected << 8) + symbol);
          symbol = symbol << 1 | got;
          if (expected !== got) break;
        } while (symbol < 0x100);
      }
      while (symbol < 0x100) symbol = symbol << 1 | bit(literals, base + symbol);
      out[n++] = symbol & 255;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let long;
    if (bit(rep, state)) {
      if (!bit(rep0, state)) {
        if (!bit(rep0Long, state)) {
          state = state < 7 ? 9 : 11;
          out[n] = out[n - d0 - 1];
          ++n;
          continue;
        }
      } else {
        let d;
        if (!bit(rep1, state)) {
          d = d1;
        } else {
          if (!bit(rep2, state)) {
            d = d2;
          } else {
            d = d3;
            d3 = d2;
          }
          d2 = d1;
        }
        d1 = d0;
        d0 = d;
      }
      long = length(repLength);
      state = state < 7 ? 8 : 11;
    } else {
      d3 = d2;
      d2 = d1;
      d1 = d0;
      long = length(matchLength);
      state = state < 7 ? 7 : 10;
      const slot = tree(slots[Math.min(long, 3)], 6);
      if (slot < 4) {
        d0 = slot;
      } else {
        const direct = (slot >> 1) - 1;
        const high = (2 | slot & 1) << direct;
        d0 = slot < 14 ? high + treeUpwards(special, high - slot, direct)
          : high + plainBits(direct - 4) * 16 + treeUpwards(align, 0, 4);
      }
    }
    for (const end = Math.min(size, n + long + 2); n < end; ++n) out[n] = out[n - d0 - 1];
  }
  return out;
}

// The module's bytes.
function skerryUnpack(packed) {
  return skerryUnlzma(packed.subarray(4), new DataView(packed.buffer, packed.byteOffset, 4).getUint32(0, true));
}

// The bytes of a text of 85 letters (cmake/pack_module.py): 4 for each 5.
function skerryBytes(text) {
  const digit = new Uint8Array(128);
  for (let code = 33, next = 0; code < 127; ++code) {
    if (!'<>&"\'\\`!-'.includes(String.fromCharCode(code))) digit[code] = next++;
  }
  const out = new DataView(new ArrayBuffer(text.length / 5 * 4));
  for (let i = 0, at = 0; i < text.length; i += 5, at += 4) {
    let number = 0;
    for (let k = 0; k < 5; ++k) number = number * 85 + digit[text.charCodeAt(i + k)];
    out.setUint32(at, number);
  }
  return new Uint8Array(out.buffer);
}

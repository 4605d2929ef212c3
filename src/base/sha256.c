/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#include "base/sha256.h"

#include <glib.h>
#include <stdbool.h>
#include <string.h>

/* GLib's checksum, and where the processor has SHA instructions these, some times as fast: meshes
 * have hundreds of megabytes. */
static void
hash_by_glib (const void *bytes, size_t size, char hex[65])
{
  g_autoptr (GChecksum) checksum = g_checksum_new (G_CHECKSUM_SHA256);
  const guchar *at = bytes;

  for (size_t left = size; left > 0;) {
    size_t step = MIN (left, (size_t)1 << 30);
    g_checksum_update (checksum, at, (gssize)step);
    at += step;
    left -= step;
  }
  memcpy (hex, g_checksum_get_string (checksum), 65);
}

#if defined __x86_64__

#include <cpuid.h>
#include <immintrin.h>

#define BLOCK    64
#define WITH_SHA __attribute__ ((target ("sha,sse4.1,ssse3")))

/* FIPS 180-4, 4.2.2 */
static const guint32 round_constants[64] = {
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
  0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
  0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
  0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
  0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
  0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
};

/* The state as the instructions want it, highest word first. */
typedef struct {
  __m128i abef, cdgh;
} State;

WITH_SHA static void
add_blocks (State *state, const guint8 *bytes, size_t n_blocks)
{
  const __m128i swap = _mm_set_epi8 (12, 13, 14, 15, 8, 9, 10, 11, 4, 5, 6, 7, 0, 1, 2, 3);
  __m128i abef = state->abef, cdgh = state->cdgh;

  for (; n_blocks > 0; n_blocks--, bytes += BLOCK) {
    __m128i w[4]; /* the last 16 words of the message schedule */
    __m128i abef_before = abef, cdgh_before = cdgh;

#pragma GCC unroll 16
    for (int i = 0; i < 16; i++) {
      if (i < 4) {
        w[i] = _mm_shuffle_epi8 (_mm_loadu_si128 ((const __m128i *)bytes + i), swap);
      } else {
        __m128i last = w[(i + 3) & 3];
        __m128i sum = _mm_add_epi32 (_mm_sha256msg1_epu32 (w[i & 3], w[(i + 1) & 3]),
                                     _mm_alignr_epi8 (last, w[(i + 2) & 3], 4));
        w[i & 3] = _mm_sha256msg2_epu32 (sum, last);
      }

      __m128i k = _mm_loadu_si128 ((const __m128i *)round_constants + i);
      __m128i added = _mm_add_epi32 (w[i & 3], k);

      cdgh = _mm_sha256rnds2_epu32 (cdgh, abef, added);
      abef = _mm_sha256rnds2_epu32 (abef, cdgh, _mm_shuffle_epi32 (added, 0x0E));
    }
    abef = _mm_add_epi32 (abef, abef_before);
    cdgh = _mm_add_epi32 (cdgh, cdgh_before);
  }
  *state = (State){ abef, cdgh };
}

WITH_SHA static void
hash_by_instructions (const void *bytes, size_t size, char hex[65])
{
  /* FIPS 180-4, 5.3.3 */
  State state = { _mm_set_epi32 (0x6a09e667, (int)0xbb67ae85, 0x510e527f, (int)0x9b05688c),
                  _mm_set_epi32 (0x3c6ef372, (int)0xa54ff53a, 0x1f83d9ab, 0x5be0cd19) };
  size_t rest = size % BLOCK;
  size_t n_last = rest + 9 > BLOCK ? 2 : 1; /* blocks with the 1 bit and the length */
  guint8 last[2 * BLOCK] = { 0 };
  guint64 n_bits = GUINT64_TO_BE ((guint64)size * 8);

  add_blocks (&state, bytes, size / BLOCK);
  if (rest > 0)
    memcpy (last, (const guint8 *)bytes + (size - rest), rest);
  last[rest] = 0x80;
  memcpy (last + n_last * BLOCK - 8, &n_bits, 8);
  add_blocks (&state, last, n_last);

  guint32 abef[4], cdgh[4];

  _mm_storeu_si128 ((__m128i *)abef, state.abef);
  _mm_storeu_si128 ((__m128i *)cdgh, state.cdgh);
  g_snprintf (hex, 65, "%08x%08x%08x%08x%08x%08x%08x%08x", abef[3], abef[2], cdgh[3], cdgh[2],
              abef[1], abef[0], cdgh[1], cdgh[0]);
}

static bool
has_instructions (void)
{
  unsigned a, b, c, d;

  return __builtin_cpu_supports ("sse4.1") && __builtin_cpu_supports ("ssse3")
         && __get_cpuid_count (7, 0, &a, &b, &c, &d) && (b & (1u << 29)) != 0;
}

#endif

void
lw_sha256 (const void *bytes, size_t size, char hex[65])
{
#if defined __x86_64__
  if (has_instructions ()) {
    hash_by_instructions (bytes, size, hex);
    return;
  }
#endif
  hash_by_glib (bytes, size, hex);
}

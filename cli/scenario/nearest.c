#include "scenario/nearest.h"

#include <ctype.h>
#include <string.h>

enum { LONGEST = 40 };

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

static int same_letter(char a, char b)
{
    return tolower((unsigned char)a) == tolower((unsigned char)b);
}

/* One more row of the table of distances; `before` and `earlier` are the two rows above it. */
static void next_row(size_t *row, const size_t *before, const size_t *earlier, const char *one, size_t i,
                     const char *other, size_t length)
{
    row[0] = i;
    for (size_t j = 1; j <= length; j++) {
        const size_t change = before[j - 1] + !same_letter(one[i - 1], other[j - 1]);
        row[j] = least(least(before[j] + 1, row[j - 1] + 1), change);
        if (i > 1 && j > 1 && same_letter(one[i - 1], other[j - 2]) && same_letter(one[i - 2], other[j - 1]))
            row[j] = least(row[j], earlier[j - 2] + 1);
    }
}

size_t brv_nearest_distance(const char *one, const char *other)
{
    const size_t n = strlen(one), m = strlen(other);
    if (n > LONGEST || m > LONGEST) return strcmp(one, other) ? n + m : 0;

    size_t table[3][LONGEST + 1] = {{0}};
    for (size_t j = 0; j <= m; j++) table[0][j] = j;
    for (size_t i = 1; i <= n; i++) next_row(table[i % 3], table[(i + 2) % 3], table[(i + 1) % 3], one, i, other, m);
    return table[n % 3][m];
}

/* Near enough: about one slip in three letters, and never a different word altogether. */
void brv_nearest_offer(struct brv_nearest *nearest, const char *candidate)
{
    const size_t distance = brv_nearest_distance(nearest->word, candidate);
    const size_t length = strlen(candidate);
    const size_t allowed = length < 3 ? 1 : (length + 1) / 3;
    if (distance > allowed || distance >= length) return;
    if (nearest->best && distance >= nearest->distance) return;
    nearest->best = candidate;
    nearest->distance = distance;
}

#include "scenario/letters.h"

#include <string.h>

#define ELLIPSIS "\xE2\x80\xA6"

struct range {
    uint32_t from, to;
};

static bool lies_in(const struct range range[], size_t n, uint32_t letter)
{
    for (size_t i = 0; i < n; i++)
        if (letter >= range[i].from && letter <= range[i].to) return true;
    return false;
}

#define LIES_IN(range, letter) lies_in(range, sizeof(range) / sizeof *(range), letter)

uint32_t brv_letters_at(const char *text, size_t *length)
{
    static const uint32_t least[5] = {0, 0, 0x80, 0x800, 0x10000};
    const unsigned char first = (unsigned char)*text;
    const size_t n = first < 0x80 ? 1 : first < 0xC0 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : first < 0xF8 ? 4 : 0;
    uint32_t letter = n < 2 ? first : first & (0xFFu >> (n + 1));
    *length = first != 0;
    if (n == 1) return letter;
    for (size_t i = 1; i < n; i++) {
        if (((unsigned char)text[i] & 0xC0u) != 0x80u) return 0xFFFD; /* the text may end here */
        letter = letter << 6 | ((unsigned char)text[i] & 0x3Fu);
    }
    const bool surrogate = letter >= 0xD800 && letter <= 0xDFFF; /* half of a letter of UTF-16 */
    if (n == 0 || letter < least[n] || letter > 0x10FFFF || surrogate) return 0xFFFD;
    *length = n;
    return letter;
}

bool brv_letters_is_broken(uint32_t letter, size_t length)
{
    return letter == 0xFFFD && length == 1;
}

bool brv_letters_is_control(uint32_t letter)
{
    static const struct range controls[] = {
        {0x01, 0x1F}, {0x7F, 0x9F}, {0x2028, 0x2029}, {0x202A, 0x202E}, {0x2066, 0x2069}};
    return LIES_IN(controls, letter);
}

static size_t width_of(uint32_t letter)
{
    static const struct range none[] = {{0x300, 0x36F},   {0x483, 0x489},   {0x591, 0x5BD},   {0x610, 0x61A},
                                        {0x64B, 0x65F},   {0x93C, 0x93C},   {0x941, 0x948},   {0x94D, 0x94D},
                                        {0xE31, 0xE31},   {0xE34, 0xE3A},   {0xE47, 0xE4E},   {0x1AB0, 0x1AFF},
                                        {0x1DC0, 0x1DFF}, {0x200B, 0x200F}, {0x20D0, 0x20FF}, {0x61C, 0x61C},
                                        {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xFEFF, 0xFEFF}};
    static const struct range wide[] = {{0x1100, 0x115F},  {0x2E80, 0x303E},   {0x3041, 0xA4CF},   {0xA960, 0xA97F},
                                        {0xAC00, 0xD7A3},  {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},   {0xFF00, 0xFF60},
                                        {0xFFE0, 0xFFE6},  {0x1F300, 0x1F64F}, {0x1F680, 0x1F6FF}, {0x1F900, 0x1FAFF},
                                        {0x20000, 0x3FFFD}};
    return LIES_IN(none, letter) ? 0 : LIES_IN(wide, letter) ? 2 : 1;
}

size_t brv_letters_columns(const char *text, size_t bytes)
{
    size_t columns = 0, length;
    for (size_t at = 0; at < bytes && text[at]; at += length) columns += width_of(brv_letters_at(text + at, &length));
    return columns;
}

size_t brv_letters_bytes(const char *text, size_t bytes)
{
    size_t at = 0, length;
    for (; at < bytes && text[at]; at += length) {
        brv_letters_at(text + at, &length);
        if (at + length > bytes) break;
    }
    return at;
}

/* Copies letters, controls as ? when asked, up to `columns` and `room`; what does not fit ends in an ellipsis. */
static void copy(char *out, size_t room, const char *text, size_t columns, bool shown)
{
    size_t n = 0, used = 0, length, end = 0; /* `end`: up to where an ellipsis would still fit */
    if (!room) return;
    for (; *text; text += length) {
        const uint32_t letter = brv_letters_at(text, &length);
        const bool hidden = shown && (brv_letters_is_control(letter) || brv_letters_is_broken(letter, length));
        const size_t bytes = hidden ? 1 : length, width = hidden ? 1 : width_of(letter);
        if (used + width > columns || n + bytes >= room) {
            n = end;
            if (columns > 0 && n + sizeof ELLIPSIS <= room) {
                memcpy(out + n, ELLIPSIS, sizeof ELLIPSIS - 1);
                n += sizeof ELLIPSIS - 1;
            }
            break;
        }
        memcpy(out + n, hidden ? "?" : text, bytes);
        n += bytes;
        used += width;
        if (used < columns && n + sizeof ELLIPSIS <= room) end = n;
    }
    out[n] = '\0';
}

const char *brv_letters_cut(char *out, size_t room, const char *text, size_t columns)
{
    copy(out, room, text, columns, false);
    return out;
}

const char *brv_letters_shown(char *out, size_t room, const char *text)
{
    copy(out, room, text, SIZE_MAX, true);
    return out;
}

void brv_letters_tell(FILE *to, const char *text)
{
    size_t length;
    for (; *text; text += length) {
        const uint32_t letter = brv_letters_at(text, &length);
        if (brv_letters_is_control(letter) || brv_letters_is_broken(letter, length))
            fputc('?', to);
        else
            fwrite(text, 1, length, to);
    }
}

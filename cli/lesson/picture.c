#include "lesson/picture.h"

#include "report/sheet.h"

#include <stddef.h>

enum { PATH_ROOM = 4224 };

/* Three bytes as four letters; the last group is filled up with '='. */
static void put_group(FILE *to, const unsigned char byte[3], size_t n)
{
    static const char letter[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    const unsigned whole = (unsigned)byte[0] << 16 | (unsigned)byte[1] << 8 | byte[2];
    for (size_t i = 0; i < 4; i++) fputc(i <= n ? letter[whole >> (18 - 6 * i) & 63] : '=', to);
}

bool brv_picture_put(FILE *to, const char *folder, const char *name, const char *text)
{
    char path[PATH_ROOM];
    snprintf(path, sizeof path, "%s/%s.svg", folder, name);
    FILE *from = fopen(path, "rb");
    if (!from) return false;
    fputs("<img alt=\"", to);
    brv_sheet_put(to, text);
    fputs("\" src=\"data:image/svg+xml;base64,", to);
    for (;;) {
        unsigned char byte[3] = {0};
        const size_t n = fread(byte, 1, sizeof byte, from);
        if (n > 0) put_group(to, byte, n);
        if (n < sizeof byte) break;
    }
    fputs("\">\n", to);
    fclose(from);
    return true;
}

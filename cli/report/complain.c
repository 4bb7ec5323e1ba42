#include "report/complain.h"

#include "scenario/letters.h"

#include <stdarg.h>
#include <stdio.h>

enum { ROOM = 3 * 4096 }; /* two paths and words; no allocation, since memory may be what is missing */

void brv_complain(const char *format, ...)
{
    char text[ROOM];
    va_list list;
    va_start(list, format);
    vsnprintf(text, sizeof text, format, list);
    va_end(list);
    brv_letters_tell(stderr, text);
    fputc('\n', stderr);
}

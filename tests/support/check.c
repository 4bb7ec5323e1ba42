#include "support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* `kind`: "held" fails a test, "shown" may miss. */
static void record(const char *what, const char *source, double found, double expected, double tolerance,
                   const char *reason, const char *kind)
{
    const char *path = getenv("BREVIS_RECORD");
    FILE *file = path ? fopen(path, "a") : NULL;
    if (!file) return;
    fprintf(file, "%s|%s|%.9g|%.9g|%.2g|%s|%s\n", what, source, expected, found, tolerance, reason, kind);
    fclose(file);
}

void compare_row(const char *what, const char *source, double found, double expected, double tolerance,
                 const char *reason)
{
    record(what, source, found, expected, tolerance, reason, "shown");
    if (!(fabs(found - expected) <= tolerance))
        print_message("outside: %s: found %g, published %g within %g\n", what, found, expected, tolerance);
}

void check_row(const char *what, const char *source, double found, double expected, double tolerance,
               const char *reason)
{
    record(what, source, found, expected, tolerance, reason, "held");
    if (fabs(found - expected) <= tolerance) return;
    fail_msg("%s: found %.17g, expected %.17g within %g (%s)", what, found, expected, tolerance, source);
}

void check_close_at(double found, double expected, double relative, double absolute, const char *what, const char *file,
                    int line)
{
    if (fabs(found - expected) <= absolute + relative * fabs(expected)) return;
    print_error("%s = %.17g, expected %.17g (relative %g, absolute %g)\n", what, found, expected, relative, absolute);
    _fail(file, line);
}

/* Read before every file that gcc's analyzer looks at (make analyze). It sees one file at a time, so it does not know that
 * brv_error_raise returns the status it is given, never 0, and would follow every failure on as if nothing had failed.  */
#include "base/status.h"

#define brv_error_raise(error, status, place) (brv_error_raise((error), (status), (place)), (status))
#define brv_error_raise_number(error, status, place, value, limit)                                                     \
    (brv_error_raise_number((error), (status), (place), (value), (limit)), (status))

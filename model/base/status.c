#include "base/status.h"

#include <stddef.h>

#define BRV_STATUS_TEXT(name, text) text,
static const char *const status_text[] = {BRV_STATUS_LIST(BRV_STATUS_TEXT)};
#undef BRV_STATUS_TEXT

const char *brv_status_text(brv_status status)
{
    return status < BRV_N_STATUS ? status_text[status] : "unknown status";
}

brv_status brv_error_raise(struct brv_error *error, brv_status status, const char *place)
{
    return brv_error_raise_number(error, status, place, 0.0, 0.0);
}

brv_status brv_error_raise_number(struct brv_error *error, brv_status status, const char *place, double found,
                                  double most)
{
    if (error)
        *error = (struct brv_error){
            .status = status, .scope = -1, .index = -1, .key = -1, .found = found, .most = most, .place = place};
    return status;
}

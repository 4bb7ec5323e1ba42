#include "report/caution.h"

#include <stdio.h>

const char *const brv_cautions[] = {
    "Teaching and what-if model of light and heat in an idealised skin.",
    "Not a medical device; not for diagnosis, not for choosing settings for a person.",
    ("Local law, the equipment's instructions, a laser protection adviser and a licensed clinician's judgement "
     "come first."),
    "Eyes: rated eyewear for everyone in the room.",
    "A doubtful or changing lesion is referred, not treated.",
    "Less is not harmless: below whitening, skin was darker at one week (Hruza 1991).",
    "Tan narrows the margin.",
    "Biology is not modelled: darkening afterwards cannot be predicted.",
};

const size_t brv_n_cautions = sizeof brv_cautions / sizeof *brv_cautions;

const char *brv_caution_text(char out[BRV_CAUTION_SIZE])
{
    size_t n = 0;
    for (size_t i = 0; i < brv_n_cautions; i++)
        n += (size_t)snprintf(out + n, BRV_CAUTION_SIZE - n, "%s%s", i ? " " : "", brv_cautions[i]);
    return out;
}

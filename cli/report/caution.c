#include "report/caution.h"

const char *const brv_cautions[] = {
    "Teaching and what-if model of light and heat in an idealised skin. Not a medical device; not for",
    "diagnosis, not for choosing settings for a person. Local law, the equipment's instructions, a laser",
    "protection adviser and a licensed clinician's judgement come first. A doubtful or changing lesion is",
    "referred, not treated. Less is not harmless: below whitening, skin was darker at one week (Hruza 1991).",
    "Tan narrows the margin. Biology is not modelled: darkening afterwards cannot be predicted.",
};

const size_t brv_n_cautions = sizeof brv_cautions / sizeof *brv_cautions;

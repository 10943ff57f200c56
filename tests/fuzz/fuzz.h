// SPDX-License-Identifier: GPL-3.0-or-later
/// The entry point that libFuzzer and replay.c call.
#ifndef CW_TEST_FUZZ_H
#define CW_TEST_FUZZ_H

#include <stddef.h>
#include <stdint.h>

/// Try one input; abort() when something is wrong. @return 0.
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif

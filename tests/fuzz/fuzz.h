/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fuzz target: what it is given is data from anywhere, and all it may do is come back.  Linked with driver.c it runs
 * over a stored corpus as an ordinary test, linked with libFuzzer (see meson.build) it looks for new inputs. */
#pragma once
#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

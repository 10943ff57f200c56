// SPDX-License-Identifier: GPL-3.0-or-later
/// The trained network's file, as it is, in the library's constants. CW_EAR_FILE is its path, given by the build.
#include "ear/network.h"

extern const unsigned char cw_network_file_end[] __attribute__((visibility("hidden")));

__asm__(".pushsection .rodata\n"
        ".balign 16\n"
        ".global cw_network_file\n"
        ".hidden cw_network_file\n"
        "cw_network_file:\n"
        ".incbin \"" CW_EAR_FILE "\"\n"
        ".global cw_network_file_end\n"
        ".hidden cw_network_file_end\n"
        "cw_network_file_end:\n"
        ".popsection\n");

size_t cw_network_file_size(void)
{
  return (size_t)(cw_network_file_end - cw_network_file);
}

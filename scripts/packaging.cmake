# SPDX-License-Identifier: GPL-3.0-or-later
# Debian packages: `cd build && cpack`. One has the program and the library, the other what C and C++ programs need to
# use it. With SOURCE_DATE_EPOCH set they have the same bytes each time.
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program RENAME copyright)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME countwright)
set(CPACK_PACKAGE_CONTACT "Countwright's makers <countwright@localhost>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_COMPONENTS_GROUPING ONE_PER_GROUP)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME countwright)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION sound)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_GENERATE_SHLIBS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS "fonts-dejavu-core | fonts-freefont-ttf | fonts-liberation")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS "xdg-utils")
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION "Ties a dancer's counts to the music
 Finds beats, bars and eights in a recording, lines a dancer's counted notes up
 against them, prints a count sheet that shows where each eight starts, and
 shows how the tempo drifts between two recordings.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libcountwright-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "countwright (= ${PROJECT_VERSION})")
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION "Ties a dancer's counts to the music: headers of the library
 What C and C++ programs need to find counts, line notes up and print sheets.")
include(CPack)

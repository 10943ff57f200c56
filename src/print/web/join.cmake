# One module of player.js and sheet.js, without the line by which the one imports the other.
file(READ ${FOLDER}/player.js player)
file(READ ${FOLDER}/sheet.js sheet)
string(REGEX REPLACE "import [^\n]* from './player.js';\n" "" joined "${sheet}")
if(joined STREQUAL sheet)
  message(FATAL_ERROR "sheet.js: no line imports player.js")
endif()
file(WRITE ${SCRIPT} "${player}\n${joined}")

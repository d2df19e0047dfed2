# A Debian package: `cpack` in the build folder. Its libraries are found by dpkg-shlibdeps, what
# sounds is a General MIDI sound font of the system's.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME landfall)
set(CPACK_PACKAGE_VENDOR "")
set(CPACK_PACKAGE_CONTACT "${LANDFALL_MAINTAINER}")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "MIDI-controller-driven improvisation trainer")
set(CPACK_PACKAGE_DESCRIPTION "\
A band loops chord changes; in one position of the neck or the keyboard the
window shows which notes are safe to land on now and at the next change, and
what is played is judged at each change. Trades phrases, keeps a history,
prints handouts.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION sound)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "timgm6mb-soundfont | fluid-soundfont-gm")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
include(CPack)

! Asks the International Reference Ionosphere 2016 (whole IRI_SUB, not parts of it) for the sky at places, months and
! activities read from standard input: one line "year month day utc_hour lat lon_east r12" each.
! Prints modified dip, dip, foF2, M(3000)F2, foE, hmF2, solar zenith angle. See make_tables.py.
program reference
  implicit none
  logical :: jf(50)
  integer :: year, month, day, state
  real :: hour, lat, lon, r12, outf(20, 1000), oarr(100)
  character(256) :: datadir
  common /folders/ datadir
  character(256) :: folder

  call get_command_argument(1, folder)
  datadir = folder
  call read_ig_rz
  call readapf107
  do
    read (*, *, iostat=state) year, month, day, hour, lat, lon, r12
    if (state /= 0) exit
    jf = .true.                 ! CCIR maps; hmF2 from M(3000)F2 (Bilitza 1979)
    jf(2:3) = .false.           ! no temperatures, no ions
    jf(4) = .false.; jf(6) = .false.
    jf(17) = .false.            ! R12 given
    jf(21) = .false.; jf(23) = .false.
    jf(25) = .false.            ! daily flux given
    jf(26) = .false.            ! no storm
    jf(27) = .false.            ! IG12 given: the same number as R12, so that foF2 runs on R12
    jf(28:30) = .false.
    jf(32) = .false.            ! 81-day flux given
    jf(33:35) = .false.         ! no auroral boundary, no messages, no foE storm
    jf(41) = .false.            ! flux for foE = 63.75 + 0.728 R12 + 0.00089 R12^2
    oarr = -1.0
    oarr(33) = r12
    oarr(39) = r12
    oarr(41) = 63.75 + r12*(0.728 + r12*0.00089)
    oarr(46) = oarr(41)
    call iri_sub(jf, 0, lat, lon, year, month*100 + day, hour + 25.0, 300.0, 300.0, 1.0, outf, oarr, folder)
    print '(f9.4,f9.4,f9.5,f9.5,f9.5,f9.3,f9.3)', oarr(27), oarr(25), sqrt(oarr(1)/1.24e10), oarr(36), &
      sqrt(oarr(5)/1.24e10), oarr(2), oarr(23)
  end do
end program

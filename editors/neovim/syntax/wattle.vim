" Colours for Wattle.
if exists('b:current_syntax')
  finish
endif

syntax case match
syntax iskeyword @,48-57,_,-

" words: statements
syntax keyword wattleStatement wattle use let robot place group part wire tie harness cable mate
syntax keyword wattleStatement mode expect reading accept assembly fit
" words: end
" words: kinds
syntax keyword wattleKind battery charger supply generator fuse breaker clamp switch stop relay
syntax keyword wattleKind contactor regulator driver amplifier controller receiver sensor motor
syntax keyword wattleKind servo light speaker meter load resistor capacitor diode shunt block splice
syntax keyword wattleKind stud lug plug socket slip-ring chassis
" words: end
" words: keys
syntax keyword wattleKey voltage absolute-max full empty output tolerance dropout forward clamps-at
syntax keyword wattleKey coil-max logic signal-max sense-max insulation-voltage cutoff alarm
syntax keyword wattleKey joining-limit float load-dump crank reset-voltage allowed-drop
syntax keyword wattleKey isolation-voltage common-mode full-scale full-scale-current output-high
syntax keyword wattleKey output-low input-high input-low current peak-time current-limit limited-by
syntax keyword wattleKey quiescent breaking-capacity breaks makes holder inrush inrush-time standby
syntax keyword wattleKey leakage clamp-current single-current regen-current hold-current discharge
syntax keyword wattleKey charge-current power dissipation pulse-energy capacity usable efficiency
syntax keyword wattleKey resistance contact-resistance capacitance inductance insulation-resistance
syntax keyword wattleKey drop chemistry cells strings taps built-in-fuse pack-protection
syntax keyword wattleKey series-string equalised unplugged-after-use covered or-ed-by
syntax keyword wattleKey waits-for-battery adjustable earthed parked-only constant-current
syntax keyword wattleKey servo-rail backed-up-by asked-for-by alternating-only disconnect style
syntax keyword wattleKey melting speed reset switching-duty coil coil-resistance coil-voltage
syntax keyword wattleKey operate release suppression poles contact polarised opens-unloaded sequence
syntax keyword wattleKey carries-only load-type contact-material break-before-make self-holding
syntax keyword wattleKey economiser operate-temperature operate-time release-time mirror-contact
syntax keyword wattleKey starts hold-to-run reachable category-reason monitored by-radio
syntax keyword wattleKey stop-category ways channels signals data-lines speed-constant pushed
syntax keyword wattleKey back-drivable takes-back-feed reversing regenerates one-way ganged
syntax keyword wattleKey harmless-motion force torque motion-power carries-weight held-by brake
syntax keyword wattleKey parking-only on-time soft-start pulsed always-on limits-itself
syntax keyword wattleKey safe-torque-off arms-at-neutral parallel-channels longest-lead failsafe
syntax keyword wattleKey failsafe-time failsafe-tested on-reset address addressed-in-turn
syntax keyword wattleKey takes-signal-unpowered takes-reversal signal-type sinks draws isolated
syntax keyword wattleKey fails-high shares-load bridged bridges-by-intent regen-path floating
syntax keyword wattleKey bonded-at multi-point metal-to-metal carries-return size length colour
syntax keyword wattleKey insulation material strands sheathed supplied-tail spare bundle
syntax keyword wattleKey parallel-by-intent length-basis insulation-resists outside-diameter
syntax keyword wattleKey sheath-diameter sleeved sleeve-temperature sleeve-voltage twisted screened
syntax keyword wattleKey screen-joined drum-layers carries bond bypass labelled double-ferrule
syntax keyword wattleKey unmetered ended-once ribbon adapter wet enclosure double-insulated
syntax keyword wattleKey out-of-reach exposed-to bend-radius twist-length turns continuous-rotation
syntax keyword wattleKey flex-cycles bare-edges support-spacing drip-loop cooled-by heat-cutoff-by
syntax keyword wattleKey positive-colours negative-colours stage all-off-on-fault all-off-on-stop
syntax keyword wattleKey insulation-monitor fenced attended without-spares moving sealed profile
syntax keyword wattleKey unloaded simultaneity port direction pull bus-speed buffered from-reset
syntax keyword wattleKey either-polarity loss-harmless family dead-when-apart interlocked-with
syntax keyword wattleKey mates-first anti-spark unmated capped symmetrical interchangeable barriers
syntax keyword wattleKey potted loaded-ways rated-wire-size rated-ambient seal-size takes-strands
syntax keyword wattleKey wires-per-way connection tightening-torque locked repaired contacts view
syntax keyword wattleKey wire-size thread shrouded keyed hot-mate max-temperature mirrored crossover
syntax keyword wattleKey note source generic confirmed also-called verified until unwired on-hand
syntax keyword wattleKey service-interval basis
" words: end
" words: modes
syntax keyword wattleMode open closed pressed released absent connected off idle typical peak stall
syntax keyword wattleMode turned held everything duty ambient
" words: end

syntax match wattleNumber "\<\d[0-9_]*\%(\.\d\+\)\?\%([eE][+-]\?\d\+\)\?"
syntax region wattleText start=+"+ skip=+\\.+ end=+"+ oneline
syntax match wattleComment "#.*$" contains=@Spell

highlight default link wattleStatement Statement
highlight default link wattleKind Type
highlight default link wattleKey Identifier
highlight default link wattleMode Constant
highlight default link wattleNumber Number
highlight default link wattleText String
highlight default link wattleComment Comment

let b:current_syntax = 'wattle'

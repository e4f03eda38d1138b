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
syntax keyword wattleKind contactor regulator driver amplifier controller receiver sensor
syntax keyword wattleKind signal-isolator motor servo light speaker meter load resistor capacitor
syntax keyword wattleKind diode shunt block splice stud lug plug socket slip-ring chassis
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
syntax keyword wattleKey resistance contact-resistance capacitance resistance-per-length inductance
syntax keyword wattleKey insulation-resistance drop chemistry cells strings taps built-in-fuse
syntax keyword wattleKey pack-protection series-string equalised unplugged-after-use covered
syntax keyword wattleKey or-ed-by waits-for-battery adjustable earthed parked-only constant-current
syntax keyword wattleKey servo-rail backed-up-by asked-for-by alternating-only disconnect
syntax keyword wattleKey dead-within style melting speed reset switching-duty coil coil-resistance
syntax keyword wattleKey coil-voltage operate release suppression poles contact polarised
syntax keyword wattleKey opens-unloaded sequence carries-only load-type contact-material
syntax keyword wattleKey break-before-make self-holding economiser operate-temperature operate-time
syntax keyword wattleKey release-time mirror-contact starts hold-to-run reachable category-reason
syntax keyword wattleKey monitored by-radio stop-category ways channels signals data-lines
syntax keyword wattleKey speed-constant brushless pushed back-drivable takes-back-feed reversing
syntax keyword wattleKey regenerates moved-mass moved-speed moved-inertia moved-turning braking-time
syntax keyword wattleKey one-way ganged harmless-motion force torque motion-power carries-weight
syntax keyword wattleKey balanced held-by brake parking-only on-time soft-start pulsed always-on
syntax keyword wattleKey limits-itself safe-torque-off arms-at-neutral parallel-channels
syntax keyword wattleKey longest-lead failsafe failsafe-time failsafe-tested on-reset address
syntax keyword wattleKey addressed-in-turn takes-signal-unpowered takes-reversal signal-type sinks
syntax keyword wattleKey draws isolated fails-high shares-load bridged bridges-by-intent regen-path
syntax keyword wattleKey floating bonded-at multi-point metal-to-metal carries-return size length
syntax keyword wattleKey colour insulation material strands sheathed supplied-tail spare bundle
syntax keyword wattleKey parallel-by-intent length-basis insulation-resists outside-diameter
syntax keyword wattleKey sheath-diameter sleeved sleeve-temperature sleeve-voltage twisted screened
syntax keyword wattleKey screen screen-joined drum-layers carries bond bypass labelled
syntax keyword wattleKey double-ferrule unmetered ended-once ribbon adapter wet enclosure
syntax keyword wattleKey double-insulated out-of-reach exposed-to bend-radius twist-length turns
syntax keyword wattleKey continuous-rotation flex-cycles bare-edges support-spacing drip-loop
syntax keyword wattleKey cooled-by heat-cutoff-by positive-colours negative-colours stage
syntax keyword wattleKey all-off-on-fault all-off-on-stop insulation-monitor fenced attended
syntax keyword wattleKey attendants without-spares moving sealed profile share unloaded lasts
syntax keyword wattleKey simultaneity port direction pull bus-speed buffered from-reset
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

/** Small books that stand on their own feet and ask for one's own numbers, by the name of their file. */
export const texts = {
  "my-blend.vacuo": `book "My blend"
about "Put in your distillates; the blend, the water to add and the cost of a bottle follow."

set bottling = 42 %vol try 37.5 %vol to 47 %vol step 0.5 %vol   # the strength on the label
set bottle   = 500 mL   # what one bottle holds

table distillates "Distillates"
| item   | volume (mL) | strength  | price     |
| first  | 1000        | 60 %vol   | 12 GBP/L  |
| second |  500        | 58 %vol   | 15 GBP/L  |
column mass = round_to(mass_of(volume, strength), step: 0.1 g)   # by the scale
column cost = volume * price   # in the currency of the prices
foot cost = sum(cost)

set blend_strength = round_to(marry(distillates.volume, distillates.strength).strength, step: 0.01 %vol)
set blend_mass     = round_to(marry(distillates.volume, distillates.strength).mass, step: 1 g)
set in_vessel      = if weighed is blank then blend_mass else weighed   # as weighed, once it is
set water          = round_to(let_down(in_vessel, blend_strength, to: bottling).add_mass, step: 1 g)   # to stir in
set makes          = round_to(let_down(in_vessel, blend_strength, to: bottling).total, step: 1 mL)   # at the label's strength

set bottles    = whole(makes / bottle)   # full ones
set per_bottle = distillates.foot.cost / (makes / bottle)   # what the distillates in one bottle cost; glass and duty come on top

set weighed  = blank in g      # the blend by the scale, before the water
set measured = blank in %vol   # after the rest, read at 20 °C

check blend_strength > bottling : "the blend is strong enough to let down"
check measured within bottling - 0.3 %vol to bottling + 0.3 %vol : "the measured strength is within 0.3 %vol of the label"

step "Weigh the distillates into one vessel: {distillates.mass}. That is {blend_mass} in all; stir slowly." ask weighed in g expect blend_mass ± 2 g
step "Stir in {water} of water at 20 °C, a third at a time." wait 30 min
step "Let it rest, then measure the strength at 20 °C. The label says {bottling}." wait 24 h ask measured in %vol expect bottling ± 0.3 %vol
step "Fill {bottles} bottles of {bottle in mL}."
`,
  "my-honey.vacuo": `book "My honey"
about "Put in the honey and the infusion; what has to be driven off follows."

set honey    = 1000 g
set moisture = 18 %      # by the honey refractometer
set infusion = 200 g
set strength = 0 %mas    # of the infusion, by mass
set solids   = 2 °Bx     # of the infusion
set goal     = moisture  # water content to come back to; a number of your own if another

set together  = honey + infusion   # what goes into the flask
set drive_off = round_to(infuse_honey(honey, moisture, infusion, strength: strength, solids: solids, to: goal).taken.mass, step: 1 g)
set left      = round_to(infuse_honey(honey, moisture, infusion, strength: strength, solids: solids, to: goal).left.mass, step: 1 g)

set flask  = 2 L             # its full volume
set fill   = 50 %            # how much of it honey and infusion may fill: half at most, a third is safer, for honey foams
set budget = 300 g           # water that the still takes off in a day
set most    = round_to(infuse_honey_limit(honey, moisture, strength: strength, solids: solids, budget: budget, flask: flask, fill: fill, to: goal).infusion, step: 1 g)   # infusion that it can take
set held_by = infuse_honey_limit(honey, moisture, strength: strength, solids: solids, budget: budget, flask: flask, fill: fill, to: goal).limited_by   # what sets that

set pot   = 32 °C   # the warmest the honey may get
set pull  = round_to(pressure_for(pot, activity: honey_activity(goal)), step: 0.5 mbar)   # at which honey of that water still boils
set bath  = 40 °C   # what drives it
set gap   = 3 K     # bath over pot at which boiling stops (common practice, no source)
set lasts = 4 h     # a guess to begin with; what the last run took is better

set weighed = blank in g   # what is left after the run, by the scale
set reached = blank in %   # its water, by the honey refractometer; alcohol in it would mislead the reading

check left > 0 g : "there is honey left"
check infusion <= most : "the infusion fits the flask and the day"
check bath >= pot + gap : "the bath is warmer than the honey, by the gap or more"
check reached <= goal + 0.2 % : "the honey is as dry as it was meant to be"

step "Warm {honey in g} of honey gently and stir in {infusion in g} of infusion. Run it the same day: thinned honey ferments."
step "Look over the glass for chips and stars, and fit the shield. Bath {bath}; begin at about 100 mbar and pull slowly down to {pull}, as the foam allows. Keep the honey under {pot}."
step "Run until {left} are left by the scale; {drive_off} have come off then." wait lasts ask weighed in g expect left ± 5 g
step "Let it come to 20 °C, clear and still, and read the honey refractometer." ask reached in % expect goal ± 0.2 %
`,
  "my-run.vacuo": `book "My run"
about "One charge, one pull. Move the slider and see where the charge boils."

set charge   = 1000 mL
set strength = 40 %vol
set flask    = 2 L      # its full volume
set wanted   = 400 mL   # what shall come over
set pull     = 60 mbar try 20 mbar to 200 mbar step 1 mbar   # absolute pressure in the still
set bath     = 35 °C
set coolant  = -10 °C
set gap      = 3 K      # bath over pot at which boiling stops (common practice, no source)
set lasts    = 2 h      # a guess to begin with; what the last run took is better

set boils  = round_to(boils_at(pull, strength: strength), step: 0.1 K)   # where the charge begins
set ends   = round_to(distil(charge, strength, pull, take: wanted).end_temperature, step: 0.1 K)   # and where it ends
set needs  = ends + gap   # the coolest bath that still drives the pot at the end
set over   = round_to(distil(charge, strength, pull, take: wanted).taken.strength, step: 0.1 %vol)   # what comes over
set weighs = round_to(distil(charge, strength, pull, take: wanted).taken.mass, step: 1 g)   # the same by the scale
set stays  = round_to(distil(charge, strength, pull, take: wanted).left.strength, step: 0.1 %vol)   # what stays in the pot

set collected = blank in g      # what came over, by the scale
set measured  = blank in %vol   # its strength after cooling, read at 20 °C
set recovered = round_to(pure_volume(collected, measured) / pure_volume(charge, strength), step: 0.1 %) in %   # of the charge's alcohol

check warm_to_cold(bath, coolant) >= 40 K : "the coolant is cold enough for the bath"
check bath >= needs : "the bath is warmer than the pot at the end, by the gap or more"
check charge <= flask / 2 : "the flask is at most half full"
check recovered <= 100 % : "no more alcohol came over than went in"

chart "Where the charge boils" : curve boils_at(p, strength: strength) for p from 20 mbar to 200 mbar mark pull

step "Look over the glass for chips and stars, and fit the shield. Fill {charge in mL} into the flask of {flask in L}, half full at most."
step "Bath {bath}, coolant {coolant}, pull to {pull}. The pot boils near {boils}, at the end near {ends}: that wants a bath of {needs} or more."
step "Collect until {weighs} have come over by the scale; that is {wanted in mL} at 20 °C." wait lasts ask collected in g expect weighs ± 5 g
step "Stir what came over, bring it to 20 °C, covered, and read its strength." ask measured in %vol expect over ± 1 %vol
`,
} as const;

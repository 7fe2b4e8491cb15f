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
column cost = volume * price
foot cost = sum(cost)

set blend = marry(distillates.volume, distillates.strength)
set water = let_down(blend.volume, blend.strength, to: bottling)

set bottles    = whole(water.total / bottle)   # full ones
set per_bottle = round_to(distillates.foot.cost / bottles, step: 0.01 GBP)   # the distillates in one bottle; glass and duty come on top

check blend.strength > bottling : "the blend is strong enough to let down"

step "Marry the distillates as the table has them, {round_to(blend.mass, 1 g)} in all, and stir slowly."
step "Stir in {round_to(water.add_mass, 1 g)} of water at 20 °C, a third at a time."
step "Let it rest, then measure the strength at 20 °C. The label says {bottling}."
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

set result = infuse_honey(honey, moisture, infusion, strength: strength, solids: solids, to: goal)

set flask  = 2 L             # filled at most to the half, for honey foams
set budget = 300 g           # water that the still takes off in a day
set limit  = infuse_honey_limit(honey, moisture, strength: strength, solids: solids, budget: budget, flask: flask, fill: 50 %, to: goal)   # how much it can take

check result.left.mass > 0 g : "there is honey left"
check infusion <= limit.infusion : "the infusion fits the flask and the day"

step "Warm {honey in g} of honey gently and stir in {infusion in g} of infusion."
step "Drive off {round_to(result.taken.mass in g, 1 g)} under vacuum, and weigh: {round_to(result.left.mass in g, 1 g)} must be left."
`,
  "my-run.vacuo": `book "My run"
about "One charge, one pull. Move the slider and see where the charge boils."

set charge   = 1000 mL
set strength = 40 %vol
set wanted   = 400 mL   # what shall come over
set pull     = 60 mbar try 20 mbar to 200 mbar step 1 mbar   # absolute pressure in the still
set bath     = 35 °C
set coolant  = -10 °C

set pot     = boils_at(pull, strength: strength)
set over    = distil(charge, strength, pull, take: wanted)

check warm_to_cold(bath, coolant) >= 40 K : "the coolant is cold enough for the bath"

chart "Where the charge boils" : curve boils_at(p, strength: strength) for p from 20 mbar to 200 mbar mark pull

step "Look over the glass for chips and stars, and fit the shield. Fill the flask at most half full: {charge in mL}."
step "Bath {bath}, coolant {coolant}, pull to {pull}. The pot boils near {round_to(pot, 0.5 K)}."
step "Collect until {wanted in mL} have come over."
`,
} as const;

//! The sentences in English. Each stands on a line of its own in the page, so none has a line end.

texts! {
    NoCoarseGrains "No sand or grit carries this blend.";
    NoCoarseGrainsRest "Its pores are those of the crumbs and of what lies between and inside them.";
    LightGround "Whether grains touch is no question here.";
    LightGroundRest "The ground has {} clay, too little for other grains to float in.";
    Touching "The grains of {} touch and carry the bed.";
    TouchingRest "They take {} of the room and need about {} (odds {} that they touch); the clay fills only part of the gaps between them.";
    OnlyJust "The grains of {} only just touch.";
    OnlyJustRest "They take {} of the room and need about {} (odds {} that they touch); the clay still fills the gaps between them, so puddled this is about as tight as the mix gets. More of them opens it.";
    Gravel "the ground’s gravel";
    Floating "The grains of {} do not touch.";
    FloatingHarms "The grains of {} do not touch: better left out.";
    FloatingOnly "They only float in the clay.";
    FloatingWithout "They only float in the clay; left out, the bed settles at {} pores instead of {}.";
    FloatingShare " They take {} of the room and touch from about {}.";
    FloatingOdds " Odds {} that they touch already.";
    FloatingMore " That takes about {} more {}";
    InBrackets " ({})";
    AboutCost ", about {}";
    FloatingParts ", in all {} parts to 1 of ground";
    FloatingTooMuch ": more than anyone would buy";
    Stop ".";
    EndsMore "More open than your ground as it lies.";
    EndsSame "About as open as your ground as it lies.";
    EndsMoreSame "More open than your ground while its crumbs hold, no worse once puddled.";
    EndsMoreLess "More open than your ground while its crumbs hold, tighter once puddled.";
    EndsSameLess "As open as your ground while its crumbs hold, tighter once puddled.";
    EndsLess "Tighter than your ground as it lies.";
    EndsRest "Settled, it has {} pores at {} while its crumbs hold and {} at {} once puddled; the ground has {} at {}.";
    DiggingMore "More open than digging alone leaves it.";
    DiggingSame "No more open than digging alone leaves it.";
    DiggingLess "Digging alone leaves it more open.";
    DiggingRest "Dug with nothing added, the ground opens to {} pores for a while and settles at {}; this blend settles at {}.";
    AloneHead "There is no ground in it to compare with.";
    AloneRest "Settled, it has {} pores at {}, and {} at {} if packed full.";
    NothingAdded "Nothing is added yet.";
    NothingAddedRest "As it lies the ground has {} pores at {}. Digging alone opens it to {} for a while; a season of rain settles it to {}.";
    IdleOne "At this rate {} changes nothing that you could measure.";
    IdleMany "At these rates {} change nothing that you could measure.";
    IdleRest "It is {} of the dry mass: texture, pores and organic matter stay as they are.";
    IdleNeeded " About {} would be needed before anything showed";
    IdleTooMuch " Before anything showed it would take more than anyone would buy.";
    IdleChemical " What it does is feed plants or change the chemistry: a soil test says whether that is wanted.";
    IdleUnproven " Trials at label rates found no lasting change in the soil.";
    IdleInstead " To loosen clay, use compost.";
    Tightens "{} makes this bed tighter.";
    TightensRest "Left out, it settles at {} pores instead of {}.";
    Instead "{} does more.";
    InsteadRest "A quarter of the heap, {} ({}){}, settles the bed at {} pores.";
    And " and ";
    UnderAHundredth "under 0.01 %";
    CareBuriedLines "Buried lines";
    CareNoHole "No hole";
    CareLead "Lead";
    CareWetClay "Wet clay";
    CareHeavyPot "Too heavy to lift";
    CareDeckLoad "Weight on a deck or roof";
    CareHerbicide "Weedkiller left in it";
    CareRawManure "Raw manure";
    CareSilica "Silica dust";
    CareCaustic "Burns";
    CareSulfur "Sulfur dust";
    CareBiosolids "Sewage compost";
    CareMetals "Metals";
    CareTreatedWood "Painted or treated wood";
    CareAmmonia "Ammonia";
    CareOverRate "More than the label";
    CareRunOff "Run-off";
    CareLegionella "Germs in dust";
    CareDust "Dust";
    CareCharDust "Char";
    CareOldVermiculite "Old stock";
    CareWeeds "Weeds and worms";
    CarePets "Children and pets";
    CareLifting "Lifting";
    CareHands "Hands and heat";
    CareBuriedLinesTold "Have cables and pipes marked before you dig, even by hand: in the United States dial 811 a few days ahead, elsewhere ask the national service. Dig by hand near the marks; local rules win.";
    CareNoHoleTold "Water must leave at the bottom, or salt and rot build up. Make holes before you fill it. Ask the extension office if it cannot be drilled.";
    CareLeadTold "Old paint, fuel and fill leave lead in soil. Have it tested by a soil laboratory before food grows in it or children dig; above 200 ppm ask the health department. Compost lowers the number, not the amount. Keep soil damp; wash hands and produce.";
    CareWetClayTold "Do not dig, till or tread clay that rolls into a wire thicker than a pencil lead: it smears and sets. Wait until a handful crumbles. The extension office knows the local season.";
    CareHeavyPotTold "One of them weighs about {} moist, and more once watered; {} is the most for a good lift, and from the floor far less. Fill it where it will stand, or use two people and a cart. With a bad back ask a doctor first.";
    CareDeckLoadTold "About {} each, moist. Ask a builder about the load, and mind local codes, before you fill it.";
    CareHerbicideTold "Some weedkillers on hay and straw pass through animals and composting and harm beans, peas, tomatoes and potatoes for months or years. Test: fill 3 pots with 1 part of it to 1 or 2 parts of clean potting mix, 3 pots with clean mix alone, each with its own saucer; sow 3 or 4 beans in each and wait 2 to 3 weeks, until three sets of true leaves. Cupped or twisted leaves only where it is mixed in: do not use it. A pass is no proof; the extension office helps to read it.";
    CareRawManureTold "";
    CareSilicaTold "Dry sand dust scars lungs. Damp it first, pour low and slow, outdoors and upwind, with a fitted N95 mask or better and eye cover; a paper mask is not enough. The label and its safety sheet win; ask a doctor about a lasting cough.";
    CareCausticTold "Ash burns skin, eyes and roots, and raises pH. Goggles and gloves; never with ammonium fertiliser or fresh manure. At most 100 g/m² (20 lb/1000 ft²) a year, and only where a soil laboratory finds acid soil.";
    CareSulfurTold "Its dust can flash in air and stings eyes. Use pellets or wet it; no smoking, still air, goggles, gloves. It works over weeks to months: have a soil laboratory test again before you repeat it. The label wins.";
    CareBiosolidsTold "Ask for the maker’s latest metals test and compare it with the limits for gardens (lead 300, cadmium 39, zinc 2800 mg/kg; 40 CFR 503.13, table 3). The rules cover germs and metals, not every chemical (such as PFAS); organic certification forbids it. Questions go to the health department.";
    CareMetalsTold "Ask the maker for a metals test, or have a soil laboratory make one, before food grows in it.";
    CareTreatedWoodTold "";
    CareAmmoniaTold "If it stings your nose it burns roots and kills seedlings. Compost it, or mix it in weeks before planting; never with lime or ash; work in open air. The label wins; the extension office knows rates.";
    CareOverRateTold "This is more than three times the usual rate in one go. The label wins, and a soil laboratory tells what is needed; give it in parts, months apart.";
    CareRunOffTold "Keep manure and compost 10 m (30 ft) from water and wells, or as far as local rules say, and off bare slopes before rain.";
    CareLegionellaTold "Open the bag away from your face, wet it before you scoop, work outdoors, wear gloves and a fitted mask (P2 or N95) if it is dusty, and wash your hands before you eat, drink or smoke. See a doctor about fever and a cough in the next two weeks, and mention the compost.";
    CareDustTold "Damp it before you pour; outdoors, upwind, with a fitted mask. The label wins.";
    CareCharDustTold "Soak it before you carry or mix it. Home-made char must be drowned and left a day: hot spots light again. Never barbecue briquettes. The label wins.";
    CareOldVermiculiteTold "Vermiculite from before 1990 may hold asbestos: leave old bags closed and ask the health department.";
    CareWeedsTold "It may bring weed seeds, jumping worms or pests: buy composted hot, look at it first, and carry no soil across quarantine lines. The extension office knows what is about.";
    CarePetsTold "Keep children and dogs from it, bags and beds, until it is dug in and watered. The label names an antidote; in doubt call the poison centre.";
    CareLiftingTold "Carry it in small loads: {} is the most for a good lift, and about 10 kg (22 lb) from the floor. With a bad back ask a doctor first.";
    CareHandsTold "Gloves, cover cuts, and ask a doctor whether your tetanus shot is current. In heat: shade, water, rest.";
    CareBuriedLinesAsked "Will you dig in the ground? Then have cables and pipes marked first, even for digging by hand: in the United States dial 811 a few days ahead, elsewhere ask the national service; local rules win.";
    CareNoHoleAsked "Can water leave at the bottom? Without holes salt and rot build up. Ask the extension office if it cannot be drilled.";
    CareLeadAsked "Is this near a house built before 1978, a road, or on fill or an old orchard? Then have the soil tested for lead by a soil laboratory before food grows in it or children dig; above 200 ppm ask the health department.";
    CareWetClayAsked "";
    CareHeavyPotAsked "Is it a pot that will be moved? It weighs about {} moist, and more once watered; {} is the most for a good lift. Fill it where it will stand, or use two people and a cart. With a bad back ask a doctor first.";
    CareDeckLoadAsked "Will it stand on a deck, balcony or roof? It weighs about {} moist: ask a builder about the load, and mind local codes.";
    CareHerbicideAsked "";
    CareRawManureAsked "Was it composted hot, or only piled? If piled or not known, dig it in at least 120 days before harvest of what touches soil, 90 days of what does not. Never use dog, cat or pig waste on food beds; who is pregnant or weak in immunity should not handle it: ask a doctor. The extension office knows the local rule.";
    CareSilicaAsked "";
    CareCausticAsked "Does the label say ground limestone or dolomite? Hydrated and quick lime burn skin, eyes and roots: do not use them. Goggles and gloves; never with ammonium fertiliser or fresh manure. How much, a soil laboratory tells.";
    CareSulfurAsked "";
    CareBiosolidsAsked "";
    CareMetalsAsked "";
    CareTreatedWoodAsked "Is it from clean wood only? Never use sawdust, chips or ash of painted, glued or pressure-treated wood, and no coal ash. If it is not known where it comes from, leave it; the extension office advises.";
    CareAmmoniaAsked "";
    CareOverRateAsked "";
    CareRunOffAsked "Is water, a well or a slope near? Keep manure 10 m (30 ft) from it, or as far as local rules say.";
    CareLegionellaAsked "";
    CareDustAsked "";
    CareCharDustAsked "";
    CareOldVermiculiteAsked "";
    CareWeedsAsked "";
    CarePetsAsked "";
    CareLiftingAsked "";
    CareHandsAsked "";
}

#[cfg(not(feature = "page"))]
pub(super) fn all() -> &'static [&'static str] {
    TEXTS
}

pub(super) fn every() -> &'static [Text] {
    ALL
}

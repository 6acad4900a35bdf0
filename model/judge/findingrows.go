package judge

// rules is the findings table.
var rules = placed(handRules, needleRules, supplyRules, crystalRules, lampRules, usualRules())

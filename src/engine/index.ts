// The contents page of the engine: every public function, room by room, and nothing else.

// geodesy
export * from './geodesy/box.ts';
export * from './geodesy/candidate-systems.ts';
export * from './geodesy/crs.ts';
export * from './geodesy/ellipsoid.ts';
export * from './geodesy/field-frame.ts';
export * from './geodesy/frame-around.ts';
export * from './geodesy/layers-apart.ts';
export * from './geodesy/lonlat-to-crs.ts';
export * from './geodesy/looks-swapped.ts';
// geometry
export * from './geometry/area.ts';
export * from './geometry/convex-in-box.ts';
export * from './geometry/length.ts';
export * from './geometry/nest.ts';
export * from './geometry/overlay.ts';
export * from './geometry/point-in-region.ts';
export * from './geometry/region-from-rings.ts';
export * from './geometry/ring.ts';
export * from './geometry/validate.ts';
// grid
export * from './grid/cell-areas.ts';
export * from './grid/field-grid.ts';
export * from './grid/heading.ts';
export * from './grid/lay-out-grid.ts';
export * from './grid/neighbours.ts';
export * from './grid/trace-labels.ts';
export * from './grid/turn.ts';
// harvest
export * from './harvest/clean-harvest.ts';
export * from './harvest/cleaning-rule.ts';
export * from './harvest/flow-delay.ts';
export * from './harvest/guess-yield-column.ts';
export * from './harvest/harvest-log.ts';
export * from './harvest/in-units.ts';
export * from './harvest/moisture-basis.ts';
export * from './harvest/passes.ts';
export * from './harvest/read-log.ts';
export * from './harvest/read-times.ts';
export * from './harvest/recognise/recognise-columns.ts';
export * from './harvest/recognise/recognise-crop.ts';
export * from './harvest/recognise/recognise-source.ts';
export * from './harvest/recognise/role.ts';
export * from './harvest/recognise/told.ts';
export * from './harvest/shift-by-delay.ts';
export * from './harvest/year-agreement.ts';
export * from './harvest/year-levels.ts';
export * from './harvest/years-together.ts';
export * from './harvest/yield-from-flow.ts';
export * from './harvest/yield-unit.ts';
export * from './issue.ts';

// layers
export * from './layers/area-share.ts';
export * from './layers/block-mean.ts';
export * from './layers/block-median.ts';
export * from './layers/fit-variogram.ts';
export * from './layers/guess-soil-columns.ts';
export * from './layers/guess-unit.ts';
export * from './layers/inverse-distance.ts';
export * from './layers/join-tables.ts';
export * from './layers/kriging.ts';
export * from './layers/number-column.ts';
export * from './layers/pixels-over.ts';
export * from './layers/raster-means.ts';
export * from './layers/smooth.ts';
export * from './layers/soil-chains.ts';
export * from './layers/soil-relative.ts';
export * from './layers/source.ts';
export * from './layers/variogram.ts';
export * from './layers/variogram-model.ts';
// lineup
export * from './lineup/answers-to-ground.ts';
export * from './lineup/average-product.ts';
export * from './lineup/day-of-year.ts';
export * from './lineup/estimate.ts';
export * from './lineup/finlay-wilkinson.ts';
export * from './lineup/ground-answer-words.ts';
export * from './lineup/ground-facts.ts';
export * from './lineup/growing-degree-days.ts';
export * from './lineup/head-to-head.ts';
export * from './lineup/head-to-head-words.ts';
export * from './lineup/maturity-needed.ts';
export * from './lineup/new-product.ts';
export * from './lineup/placement-check.ts';
export * from './lineup/placement-rule.ts';
export * from './lineup/placement-words.ts';
export * from './lineup/product.ts';
export * from './lineup/product-response.ts';
export * from './lineup/rating-share.ts';
export * from './lineup/season-fit.ts';
export * from './lineup/season-fit-words.ts';
export * from './lineup/standings.ts';
export * from './lineup/standings-words.ts';
export * from './lineup/trial-table.ts';
// math
export * from './math/crop-name.ts';
export * from './math/median.ts';
export * from './math/random.ts';
export * from './math/units.ts';
export * from './math/weighted.ts';
// prescription
export * from './prescription/close-ledger.ts';
export * from './prescription/cut-cells.ts';
export * from './prescription/cut-zones.ts';
export * from './prescription/ledger.ts';
export * from './prescription/prescription.ts';
// rates
export * from './rates/assignment.ts';
export * from './rates/chances.ts';
export * from './rates/choose-products.ts';
export * from './rates/earnings-by-world.ts';
export * from './rates/flat-plan.ts';
export * from './rates/ground.ts';
export * from './rates/knowing.ts';
export * from './rates/money.ts';
export * from './rates/rate-range.ts';
export * from './rates/verdict.ts';
export * from './rates/worlds.ts';
export * from './rates/worth.ts';
export * from './rates/zone-option.ts';
// response
export * from './response/curve.ts';
export * from './response/families.ts';
export * from './response/family.ts';
// zones
export * from './zones/fuzzy-c-means.ts';
export * from './zones/natural-breaks.ts';
export * from './zones/tidy.ts';
export * from './zones/zone-doubt.ts';
export * from './zones/zoning.ts';

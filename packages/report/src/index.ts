export { adapterPage } from './adapter-page.ts';
export { checkPage } from './check-page.ts';
export { choosePage } from './choose-page.ts';
export { crosstalkPage } from './crosstalk-page.ts';
export { curveCsv } from './curve-csv.ts';
export { curvePage, type ChartedCurve } from './curve-page.ts';
export { diagnosticLines } from './diagnostic-lines.ts';
export { figureRows, type FigureRow, type Numbers } from './figure-rows.ts';
export { openFindingGroups, type FindingGroup } from './finding-groups.ts';
export { fitPage } from './fit-page.ts';
export { headroomPage } from './headroom-page.ts';
export { humPage } from './hum-page.ts';
export { influencePage } from './influence-page.ts';
export { insertionsPage } from './insertions-page.ts';
export { leadDrawing } from './lead-drawing.ts';
export { listenPage, type ListenedRecording } from './listen-page.ts';
export { loadingPage } from './loading-page.ts';
export { purchaseCsv, sheetCsv } from './sheet/sheet-csv.ts';
export { sheetPage } from './sheet/sheet-page.ts';
export { matchPage } from './match-page.ts';
export { trimPage } from './trim-page.ts';
export { change, db, none } from './numbers.ts';
export { noisePage } from './noise-page.ts';
export { polesPage } from './poles-page.ts';
export { settlePage } from './settle-page.ts';
export { signalPage } from './signal-page.ts';
export { spreadPage } from './spread-page.ts';
export { stringDrawing } from './string-drawing.ts';
export { voltsPage } from './volts-page.ts';
export { channelLetter } from './states-shown.ts';
export {
  bandShare,
  inks,
  inkVariable,
  limitDashes,
  lookStyles,
  secondLine,
  type InkName,
  type Look,
} from './figure/figure-style.ts';
export { seriesName, type Band, type BarFigure, type CurveFigure, type Figure, type Series } from './figure/figure.ts';
export { shareAlong, type Axis, type Tick } from './figure/scales.ts';
export { svgFigure } from './figure/svg-figure.ts';
export { balanceFigure } from './figure/balance-figure.ts';
export { deviationFigure } from './figure/deviation-figure.ts';
export { hissFigure } from './figure/hiss-figure.ts';
export { cartridgeFigure, inputFigure } from './figure/input-figures.ts';
export { overloadFigure } from './figure/overload-figure.ts';
export { responseFigure } from './figure/response-figure.ts';
export type { OfState } from './figure/state-curves.ts';
export { switchOnFigure } from './figure/switch-on-figure.ts';
export { historyPage } from './history-page.ts';
export { jobsPage, type JobLine } from './jobs-page.ts';
export { explainedWords, explainGuide, explainList, explainPage } from './explain/explain-page.ts';
export { stageDrawing } from './stage-drawing/stage-drawing.ts';
export { stageDrawingText } from './stage-drawing/stage-text.ts';
export { stageScene } from './stage-drawing/stage-scene.ts';
export type { Only } from './stage-drawing/piece.ts';
export type { StageDrawingOptions, StagePlateOptions } from './stage-drawing/options.ts';
export type { Scene } from './stage-drawing/scene.ts';
export { cardPage, type CardPage } from './lessons/card-page.ts';
export { glossary, termsIn, withTerms } from './lessons/glossary.ts';
export type { ChoiceMark, Lesson, LessonFigure, LevelMark, Mark, NoLesson, Walk } from './lessons/lesson.ts';
export { lessonPage } from './lessons/lesson-pages.ts';
export { lessonTitles } from './lessons/lesson-titles.ts';
export { suspectPage } from './suspect-page.ts';
export { popsFigures } from './figure/pops-figure.ts';
export { popsPage, type PopsRecording } from './pops-page.ts';
export type { ProofContent, ProofInput } from './proof/proof-content.ts';
export { checkText, proofFacts, type ProofFacts } from './proof/proof-facts.ts';
export { proofSheet } from './proof/proof-sheet.ts';
export { reworkDocument } from './proof/rework-document.ts';
export { compareSheets, readWrittenSheet } from './proof/compare-sheets.ts';
export { differencesPage, isSame } from './proof/proof-differences.ts';

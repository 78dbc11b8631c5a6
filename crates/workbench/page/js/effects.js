import { byId } from "./element.js";

/**
 * What each control does, in a line. The first that fits holds; what has no line of its own
 * stands in its leaf's.
 * @type {readonly (readonly [selector: string, effect: string])[]}
 */
const EFFECTS = [
  ["#open-walk", "Leads through the page in nine stages, from a demonstration to your own moment."],
  ["#open-beside", "Fills the screen with one sentence at a time, for a phone beside the brass in hand."],
  ["#open-settings", "Opens what is kept from day to day: home place, usual instrument, how the page looks."],
  ["#new-version button", "Loads the page anew, in its new version."],
  ["#print", "Prints one sheet: what to set, the instrument, what to read and why they differ."],
  [".in-handbook button", "Opens the chapter of the handbook that tells of this part."],
  [".handbook-there", "Opens that part of the page and goes there."],
  [".contents button", "Opens that part further down and goes there."],
  ["#walk-back", "Goes back one stage of the walk."],
  ["#walk-next", "Goes on; what is spoken of is framed."],
  ["#walk-end", "Ends the walk; the button at the top begins it again."],

  ["#home", "The page begins here, and towns near it are suggested first."],
  ["#usual-with", "The page begins with this instrument."],
  ["#usual-by", "The page begins with this way of reading the cusps."],
  ["#usual-sun", "The page begins with the Sun’s degree taken from here."],
  ["#usual-houses", "The page begins with this method for the calculated houses."],
  ["#usual-figures", "Figures are drawn in this form."],
  ["#page-address", "Cards, handouts and sheets of made instruments bear a code by which a telephone opens the page at this address."],
  ["#surroundings", "Light or dark paper; or a red light, which leaves the eye used to the dark."],
  ["#settings button", "Casts for this minute at the home place, with what is usual."],

  ["#date", "The date to cast for, year first; the whole page follows."],
  ["#time", "The time on the clock; the sum beneath turns it into the Sun’s."],
  ["#now", "Takes this minute."],
  [".here", "Takes this minute, and asks the browser where you are."],
  ["#place", "The town, or latitude and longitude; Enter takes what is highlighted."],
  ["#with", "The instrument that is set, drawn and read below."],
  ["#by", "How the cusps are read off the instrument; the steps change with it."],
  ["#clock", "By which clock the time is told; the sum begins there."],
  ["#offset", "How far that clock is ahead of UTC: +01:00."],
  ["#zone", "Another zone than the place’s own, or an offset."],
  ["#calendar", "By which calendar the date is counted."],
  ["#which", "Which of the two, where a clock was put back."],
  ["#sun", "Whether the Sun’s degree is read on your brass, or taken as the ephemeris has it."],
  ["#plates", "Whether one plate is used, or two with the latitude between them, in proportion."],
  ["#houses", "By which method the exact cusps are calculated, to compare with."],
  ["#case-form .said button", "Takes this one."],

  [".candidates button", "Takes the time as told by this clock; sum and readings follow."],
  [".trust button", "Takes this way; verdict, steps and readings follow."],

  ["#operation", "What is worked: casting a figure, or another operation of the treatise."],
  ["#working :is(input, select)", "Given to the operation; its steps and findings follow."],

  ["#previous-step", "Takes the parts back to the step before."],
  ["#next-step", "Turns the parts as the next sentence says."],
  ["#play", "Plays the sentences one after another, or pauses."],
  ["#pace", "How fast the parts turn when they play."],
  ["#glass", "Whether a lens lies over what is read."],
  ["#show", "Fills the screen with instrument and sentence."],
  ["#withhold", "Tells each sentence without what is found, and that with the next press."],
  ["#large-lens", "Whether the lens is large enough for the last row."],
  ["#pointing", "A ring to point with: by mouse or finger, or by the arrow keys with Shift."],
  ["#end-showing", "Goes back to the page."],
  [".showing-bar button", "Goes on in the showing, or back."],
  [".step", "Turns the parts as this sentence says; the arrow keys go from one to the next."],
  [".chapter", "Goes on to midheaven and houses, or back to the ascendant alone; it is remembered."],

  ["#beside-leave", "Goes back to the whole page."],
  ["#beside-sum", "Shows the sum that leads from the clock to the hour for the rule."],
  ["#beside-red", "Lights a red light, which leaves the eye used to the dark, or puts it out."],
  ["#beside-back", "Goes back one sentence; a swipe to the right does the same."],
  ["#beside-next", "Goes on; a swipe to the left does the same."],
  ["#beside-read", "Opens number keys and signs, to write what your brass shows."],
  ["#beside :is(button, input)", "Part of working beside the brass, one sentence at a time."],

  ["#hand-rete", "The arrow keys turn the rete by a degree; with Shift by a tenth."],
  ["#hand-rule", "The arrow keys turn the rule by a degree; with Shift by a tenth."],
  ["#hand-alidade", "The arrow keys turn the alidade by a degree; with Shift by a tenth."],
  [".hand button", "Turns this part by a degree."],
  ["#face", "Whether the drawing is seen or your own brass over it; what is read stays the drawing’s."],
  ["#turn-over", "Turns the instrument over."],
  ["#set-again", "Puts the parts back as the working left them."],
  ["#live button", "Casts for the moment that this position means."],

  ["#own-local-time", "The hour on which you laid the rule; with it a slip is found sooner."],
  ["#own-sun-degree", "The Sun’s degree that you took; with it a slip is found sooner."],
  [".reads input", "What your brass shows; what went wrong, if anything, is said beneath."],
  [".without input", "Leaves this out of the sum, as you did; the shares change."],
  ["#empty-readings", "Empties the boxes of what you read."],
  [".why-one summary", "Shows how the difference is made up, cause by cause."],

  ["#try-level", "How awkward the drawn cases are."],
  ["#try-draw", "Draws a case for your brass; its answers stay hidden."],
  ["#try-read", "Holds what you read against what this brass shows."],
  ["#try-show", "Sets the case on the instrument above, with its steps."],
  ["#try-forget", "Lets go of what went wrong lately."],
  ["#trying input", "What your brass shows for this."],

  ["#figure-form", "The form in which the figure is drawn."],
  ["#figure-filled", "Draws the calculated cusps, those you read, both, or a sheet to fill in."],
  ["#figure-outer", "Shows the three planets that the old books did not know, in other times too."],
  ["#figure select", "By which rule of the books; drawing and tables follow."],
  ["#print-figure", "Prints the drawing as it stands here, with its words, and nothing else."],
  ["#figure button", "Saves the drawing as a file."],

  ["#until", "The latest time it may have been."],
  ["#uncertain-ask", "Looks through the time between, minute by minute."],
  ["#seek-from, #seek-to", "Between these dates it is sought; a time of day may stand behind."],
  ["#seek-lasting", "Shorter times are left out."],
  ["#seek-must", "All of this must hold at once, a wish on a line."],
  ["#seek-rather", "The more of this holds too, the higher a time stands."],
  ["#seek-ask", "Finds every time, to the second, and puts the best first."],
  ["#seek-calendar", "Saves all the times as a calendar file."],
  ["#seek-take", "Makes the first time the case above."],
  ["#book-year", "The year of the book."],
  ["#book-paper", "The size of its pages, and whether they stand in the order for folding."],
  ["#book-ask", "Makes a PDF for the case’s place and instrument."],
  ["#book-calendar", "Saves lunations, ingresses, stations, appearances, eclipses and clock changes as a calendar file."],
  ["#times :is(input, select, textarea, button)", "Asked of the case above; the answer comes beneath."],

  ["#pen-ask", "Works the case above from printed tables, step by step."],
  ["#pen-hour", "At which hour the ephemeris has its days."],
  ["#pen-second-difference", "Bends the Moon’s way between two days, as her motion changes."],
  [".pen-own summary", "Opens boxes for what you found on a sheet of your own."],
  [".pen-own input", "What you found: a degree such as 11°30′ Pisces, the sidereal time such as 22:15:56."],
  ["#pen-correct", "Holds what you found against the sheet, and seeks the slip of the pen."],
  ["#pen-print", "Saves the worked sheet as a PDF, to be printed."],
  ["#pen-print-blank", "Saves the sheet with its numbers left out and the rows of the tables beside them: an exercise."],
  ["#pen-back", "Shows the step before."],
  ["#pen-on", "Shows the next step."],
  [".pen-account summary", "Shows how the difference is made up, cause by cause."],
  [".pen-steps button", "Shows this step, with the rows of the tables that it looks at."],

  ["#correct", "Holds the readings against what should be, and names the slip."],
  ["#take-mine", "Puts what you read above into the boxes."],
  ["#invented", "Shows it with an invented pupil."],
  ["#correct-clear", "Empties the boxes."],
  ["#printed", "Looks for other methods, clocks and calendars instead of slips of the hand."],
  ["#correcting :is(input, select, button)", "A pupil’s reading or mark; nothing is kept until it is said."],

  ["#make-handout", "Makes a PDF of what is worked above, with a picture for each step."],
  ["#make-exercises", "Makes a sheet for everyone, and the key."],
  ["#keep-class", "Keeps the class with the casebook; its sheets and answers stand under “Classes”."],
  ["#give-out", "Draws a sheet for everyone, each for their own instrument, and keeps it."],
  ["#posted-number", "Whose sheet is shown; your teacher knows who has which number."],
  ["#posted-save", "Saves what you read as a file for your teacher."],
  ["#posted-sheet button", "Tells what is right, and what would explain what is not."],
  ["#posted-sheet input", "What you read; it stays here until you save it."],
  ["#classes-delete", "Deletes the class and all its sheets for good, once it is pressed again."],
  ["#answers-correct", "Marks what was read, names the slips, and keeps it."],
  ["#classes-site", "The page without a server, as one file: the pupils’ pages are made of it."],
  ["#classes-corrects", "Whether the pupils’ page tells at once what is right; else it saves what is read for you."],
  ["#classes-post-all", "Makes one page for all; everyone chooses a number on it, and no name stands there."],
  ["#classes-post-one", "Makes the page of this pupil, by number and without the name."],
  ["#classes-came-back", "Takes files that pupils’ pages saved; all answers are corrected and kept."],
  ["#classes-instead", "Whether what was answered before gives way to what comes back."],
  ["#classes :is(input, select, button)", "Concerns the kept classes, on this machine alone."],
  ["#one-more", "Adds a pupil."],
  ["#class-example", "Fills the form with an invented class."],
  ["#teaching :is(input, select, textarea, button)", "Part of the class or of its sheets; it stays through a reload."],

  [".own-brass :is(input, select, textarea, button)", "Part of your instrument’s description; the drawing beside it follows."],
  ["#cabinet :is(input, select, textarea, button)", "Concerns the instruments at hand; your own are kept beside the casebook."],

  ["#film-title", "What the first card says; unless it is written, the name of what is worked."],
  ["#film-end", "A line of your own on the last card; it is kept here."],
  ["#film-shape", "Lying for screens, standing for telephones."],
  ["#film-make", "Makes the video, in this browser, and shows it here."],
  ["#film-stop", "Breaks the making off."],
  ["#film-save", "Saves the video as a file."],
  ["#film-seen", "Plays the film that was made."],

  ["#spec-from", "What the form is filled with; what was there before can be taken back."],
  ["#spec-undo", "Takes the last change of the specification back."],
  ["#spec-leave", "Empties the form: what is made is the instrument in hand again."],
  ["#spec-front", "Shows the front of what is described."],
  ["#spec-back", "Shows the back of what is described."],
  ["#spec-keep", "Keeps what is described among your instruments."],
  ["#spec-save", "Saves the specification as a text file."],
  ["#specification", "The specification itself; fields and picture follow what is written here."],
  [".text-faults button", "Goes to this line of the text."],
  [".to-usual", "Takes this out of the specification, so that the usual holds."],
  [".spec-form :is(input, select, textarea, button)", "Part of what is described; picture and text follow."],
  ["#engrave-depth", "How deep lines and letters are sunk into solids."],
  ["#raised", "How high lines and letters stand out of solids, instead of being sunk."],
  ["#line-width", "Lines that would be narrower are made so broad, in solids and on films."],
  ["#film-sense", "What is dark on films for etching."],
  ["#undercut", "How far the etch eats beneath the resist: every edge is drawn in by it."],
  ["#film-mirrored", "Whether the films read wrongly, so that ink laid on top goes against the metal."],
  ["#etch-through", "Whether parts are etched out of their sheet, held by tabs."],
  ["#rates-of", "What the sheets are of, for mass and cost."],
  ["#rates-batch", "How many instruments are reckoned."],
  ["#rates-kilogram", "What a kilogram of sheet costs, in your own coin."],
  ["#rates-hour", "What an hour of the machine costs, in your own coin."],
  ["#rates-cut", "How many millimetres the machine cuts in a minute."],
  ["#rates-engrave", "How many millimetres it engraves in a minute."],
  ["#make-files", "Makes the files for printer, cutter and engraver."],
  ["#photograph-file", "Lays a photograph in; it is not sent anywhere."],
  [".photograph-sheet", "Press where something is recognised; drag to move the picture."],
  ["#photograph-mark", "Marks what is seen at the cross; the text below follows."],
  ["#photograph-proposals button", "Marks this at the cross."],
  ["#photograph-back", "Whether the picture is of the back; what can be marked changes with it, and marks begin anew."],
  ["#photograph-snap", "Looks for the line’s darkest middle at the cross; a ring shows it before it is marked."],
  ["#photograph-lines", "Shows the lines that were found over the picture, and how far marks are off."],
  ["#photograph-wanted button", "Puts the cross where a mark would tell most."],
  ["#photograph-setting", "Tells how rete and rule of the instrument at the top stand in the picture, and what they show."],
  ["#photograph-correct", "Takes what the instrument shows into correcting, to find the slip."],
  ["#photograph-save", "Saves one file with the picture, what is drawn over it, and what was found."],
  ["#lay", "Lays the ticked parts of the photograph over the drawn ones of the instrument above."],
  ["#lay-whole", "Whether what shines through the rete’s openings in the photograph goes along, half seen through."],
  ["#lay-forget", "Shows the drawing of the instrument above again, and forgets its photographs for good."],
  ["#examine-within", "How far a length or a mark may be off; 0.2 mm unless said."],
  ["#photograph :is(input, button)", "Concerns the marks in the photograph."],
  ["#workshop :is(input, select, textarea, button)", "Concerns the pieces that are made, compared or examined here."],
  ["#open-casebook", "Opens the casebook below."],
  ["#keep-new", "Keeps the case above, with its readings, as a new one."],
  ["#book-undo", "Takes the last change of the casebook back."],
  ["#casebook :is(input, select, textarea, button)", "Concerns the kept cases, on this machine alone."],
  ["#week-when", "The day, and the hour if there is one."],
  ["#week-kind", "Whether it is a lesson to give or an order to deliver."],
  ["#week-what", "For whom or of what it is."],
  ["#week-put", "Keeps it in the casebook, under its day."],
  [".week-done", "Takes it off the week; it stays in the casebook."],
  ["#today button", "Takes this up above."],

  [".fold", "Opens this part of the page, or folds it."],
  ["summary", "Opens what stands behind it, or folds it."],
];

const LINE = "effect";

/**
 * Tells what the control that has the focus does, in one line at the foot of the window.
 * It is the control's description too, so that it is read out.
 */
export function createEffects() {
  const line = byId(LINE);
  document.addEventListener("focusin", ({ target }) => {
    if (!(target instanceof Element)) return;
    line.textContent = effectOf(target);
    if (line.textContent) describe(target, (ids) => [...ids, LINE]);
  });
  document.addEventListener("focusout", ({ target }) => {
    line.textContent = "";
    if (target instanceof Element) describe(target, (ids) => ids);
  });
}

/** @param {Element} control */
export const effectOf = (control) => EFFECTS.find(([selector]) => control.matches(selector))?.[1] ?? "";

/**
 * @param {Element} control
 * @param {(ids: string[]) => string[]} change of what else describes it
 */
function describe(control, change) {
  const ids = (control.getAttribute("aria-describedby") ?? "").split(" ").filter((id) => id && id !== LINE);
  const now = change(ids).join(" ");
  if (now) control.setAttribute("aria-describedby", now);
  else control.removeAttribute("aria-describedby");
}

/** Charts and pictures. */
import { ExcelFailure, UnknownConstruct } from "../failure";
import { remote, type Kind } from "../model";
import type { HostChart, HostPicture, HostSheet } from "../workbook";
import { addressOf } from "./range";

/** Of Excel.ChartType, those that the panel makes. */
const CHART_TYPES = ["XYScatter", "ColumnClustered"];

export const CHARTS: Kind<HostSheet> = {
  name: "ChartCollection",
  items: ({ charts }) => charts.map((chart) => remote(CHART, chart)),
  get: { Count: ({ charts }) => charts.length },
  methods: {
    GetCount: ({ charts }) => charts.length,
    Add: (sheet, type, source, seriesBy) => {
      if (!CHART_TYPES.includes(type) || seriesBy !== "Columns")
        throw new UnknownConstruct(`a chart ${type} by ${seriesBy}`);
      sheet.mayBeEdited();
      const chart: HostChart = { id: sheet.workbook.newId(), type, values: addressOf(source) };
      sheet.charts.push(chart);
      return remote(CHART, chart);
    },
  },
};

/** A title reads text that begins with "=" as a reference, and takes 255 characters. */
function title(text: string): string {
  if (text.startsWith("=") || text.length > 255)
    throw new ExcelFailure("InvalidArgument", "The argument is invalid or missing or has an incorrect format.");
  return text;
}

const titleKind = (field: "title" | "xTitle" | "yTitle"): Kind<HostChart> => ({
  name: "ChartTitle",
  get: { Text: (chart) => chart[field] ?? "" },
  set: {
    Text: (chart, text) => void (chart[field] = title(text)),
    Visible: (chart, visible: boolean) => {
      if (!visible) delete chart[field];
    },
  },
});
const TITLE = titleKind("title");
const X_TITLE = titleKind("xTitle");
const Y_TITLE = titleKind("yTitle");

const CHART: Kind<HostChart> = {
  name: "Chart",
  key: ({ id }) => id,
  get: { Id: ({ id }) => id, Name: ({ id }) => id },
  parts: {
    Title: (chart) => remote(TITLE, chart),
    Legend: (chart) => remote(LEGEND, chart),
    Axes: (chart) => remote(AXES, chart),
    Series: (chart) => remote(SERIES_COLLECTION, chart),
  },
  methods: {
    SetPosition: (chart, from, to) => void ([chart.from, chart.to] = [addressOf(from), addressOf(to)]),
  },
};

const LEGEND: Kind<HostChart> = {
  name: "ChartLegend",
  set: { Visible: (chart, visible) => void (chart.legend = visible) },
};

const AXES: Kind<HostChart> = {
  name: "ChartAxes",
  parts: {
    CategoryAxis: (chart) => remote(CATEGORY_AXIS, chart),
    ValueAxis: (chart) => remote(VALUE_AXIS, chart),
  },
};
const CATEGORY_AXIS: Kind<HostChart> = { name: "ChartAxis", parts: { Title: (chart) => remote(X_TITLE, chart) } };
const VALUE_AXIS: Kind<HostChart> = { name: "ChartAxis", parts: { Title: (chart) => remote(Y_TITLE, chart) } };

const SERIES_COLLECTION: Kind<HostChart> = {
  name: "ChartSeriesCollection",
  get: { Count: () => 1 },
  methods: {
    GetItemAt: (chart, index) => {
      if (index !== 0) throw new ExcelFailure("InvalidArgument", "There is one series.");
      return remote(SERIES, chart);
    },
  },
};

const SERIES: Kind<HostChart> = {
  name: "ChartSeries",
  set: { Name: (chart, name) => void (chart.series = title(name)) },
  methods: {
    SetValues: (chart, range) => void (chart.values = addressOf(range)),
    SetXAxisValues: (chart, range) => void (chart.xValues = addressOf(range)),
  },
};

export const SHAPES: Kind<HostSheet> = {
  name: "ShapeCollection",
  items: ({ pictures }) => pictures.map((picture) => remote(SHAPE, picture)),
  methods: {
    AddImage: (sheet, png: string) => {
      sheet.mayBeEdited();
      const picture: HostPicture = { id: sheet.workbook.newId(), png };
      sheet.pictures.push(picture);
      return remote(SHAPE, picture);
    },
  },
};

const SHAPE: Kind<HostPicture> = {
  name: "Shape",
  key: ({ id }) => id,
  get: { Id: ({ id }) => id, Name: ({ name }) => name ?? "" },
  set: {
    Name: (picture, name) => void (picture.name = name),
    AltTextDescription: (picture, text) => void (picture.altTextDescription = text),
    LockAspectRatio: (picture, locked) => void (picture.lockAspectRatio = locked),
    Width: (picture, points) => void (picture.width = points),
    Left: (picture, points) => void (picture.left = points),
    Top: (picture, points) => void (picture.top = points),
  },
};
